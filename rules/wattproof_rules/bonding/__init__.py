"""Rules on what ties a pole to the chassis, the water or the earth."""
