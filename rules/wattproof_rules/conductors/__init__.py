"""Rules on conductors."""
