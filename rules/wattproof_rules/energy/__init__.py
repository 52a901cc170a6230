"""Rules on energy: what the sun brings in a day against what is used, and how long it lasts."""
