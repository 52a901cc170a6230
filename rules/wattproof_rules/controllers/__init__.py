"""Rules on what a charge controller is given and what it gives."""
