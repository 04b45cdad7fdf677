"""Words about the animals: who lives where, hatches to come, survival, what changed."""
