"""Numbers: assigned here and nowhere else."""
