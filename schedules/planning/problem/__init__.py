"""The planning problem: its values, what a plan of it costs, its JSON, how it is built from a room and a history."""
