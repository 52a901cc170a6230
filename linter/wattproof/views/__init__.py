"""What is shown of a study, gathered and ordered; nothing here judges."""
