"""What a remedy writes into a plan, and what comes of trying it."""
