"""The installed program in a real terminal."""
