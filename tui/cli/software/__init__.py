"""Commands about the program itself: completion for a shell, and what is installed and where things lie."""
