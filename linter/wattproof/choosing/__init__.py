"""What a plan leaves to be chosen: every way to choose it, checked as `check` would check it."""
