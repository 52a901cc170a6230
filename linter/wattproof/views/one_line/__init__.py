"""The one-line view of a plan: its parts and the runs between them."""
