"""What holds now: days away, when needs were last answered, and the parts of a history that others ask for."""
