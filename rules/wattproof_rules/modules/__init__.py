"""Rules on what the labels of modules say."""
