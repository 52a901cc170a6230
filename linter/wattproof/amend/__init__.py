"""Changes written into the text of a plan: at the places meant, and byte for byte nowhere else."""
