"""Rules on conductors, joints, connectors, switches and bonds."""
