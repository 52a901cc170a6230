"""What was chosen for a plan, with the reason and the working of each choice."""
