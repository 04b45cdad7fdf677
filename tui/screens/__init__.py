"""The screens, each in a file of its own."""
