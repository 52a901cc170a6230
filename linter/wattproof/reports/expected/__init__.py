"""What a meter should show, as a sheet to take along."""
