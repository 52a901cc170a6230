"""Rules on fuses and breakers: what they protect, carry and can break."""
