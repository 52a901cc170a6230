"""What is shown of a run: one file an output. Reports say what was found and never compute."""
