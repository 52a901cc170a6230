"""Physics: pure functions of plain numbers, SI in and out, each with its published source."""
