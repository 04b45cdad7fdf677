"""The shelf: what there is of each feed, and the acts that change it."""
