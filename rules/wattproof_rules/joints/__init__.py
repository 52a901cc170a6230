"""Rules on joints where branches of an array meet."""
