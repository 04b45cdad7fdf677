"""What was seen of the animals and what is learned from it, each screen in a file of its own."""
