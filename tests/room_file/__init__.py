"""The room file: what it may hold, and what is said of one that holds something else."""
