"""Commands that print what is planned, due, given or seen. They record nothing but the plan of today."""
