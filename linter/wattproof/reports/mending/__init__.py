"""What was mended in a plan, as a difference and what is left."""
