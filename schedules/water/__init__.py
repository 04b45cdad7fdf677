"""Water: what was read in the tanks, what it says, and what to pour in. Between history and amounts."""
