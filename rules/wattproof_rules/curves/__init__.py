"""Rules on where controllers work on the curves of their arrays."""
