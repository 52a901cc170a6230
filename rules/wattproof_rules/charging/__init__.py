"""Rules on what charges a bank, and on controllers and inverters as units."""
