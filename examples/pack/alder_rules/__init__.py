"""Rules of the (invented) Alder workshop, one file a rule."""
