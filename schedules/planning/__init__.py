"""Planning: from a room and its history to a problem, from the problem to a plan, and why the plan is as it is."""
