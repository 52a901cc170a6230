"""Rules on modules, their labels, and the voltages and currents of an array."""
