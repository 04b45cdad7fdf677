"""Words about the shelf, and about the calendar of rounds, chores, days away, hatches and orders."""
