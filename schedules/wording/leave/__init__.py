"""Words about going away: the helper's sheet and labels, what the days away cost, what must be ready."""
