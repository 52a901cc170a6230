"""Rules on where things stand: gas, people, buildings, and what holds a module on a roof."""
