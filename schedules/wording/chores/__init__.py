"""Words about chores: what is due and since when, where, what comes next, what was missed."""
