"""The one-line diagram as a picture."""
