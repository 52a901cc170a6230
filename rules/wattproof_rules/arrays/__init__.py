"""Rules on how modules are joined, and on what the array voltage meets."""
