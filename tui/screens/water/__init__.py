"""The water: reading a rack in a walk, and what was read in each tank, each screen in a file of its own."""
