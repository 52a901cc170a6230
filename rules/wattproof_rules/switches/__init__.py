"""Rules on switches and on what can be turned off."""
