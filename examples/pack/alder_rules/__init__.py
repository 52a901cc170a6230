"""Rules of alder, one file a rule."""
