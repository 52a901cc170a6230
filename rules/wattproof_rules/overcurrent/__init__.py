"""Rules on fuses, breakers, and what they protect."""
