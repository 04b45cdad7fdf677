"""What the keeper sees: the dashboard, and the commands that print the same things as plain text."""
