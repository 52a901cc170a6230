"""What to look up, as a sheet to take to the installation."""
