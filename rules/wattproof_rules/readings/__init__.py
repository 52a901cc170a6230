"""Rules on what a meter showed once the installation was built."""
