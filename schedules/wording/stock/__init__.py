"""Words about the shelf, and about the calendar of rounds, hatches and orders."""
