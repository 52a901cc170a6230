"""What a builder means who writes what a plan does not have, and what to write instead."""
