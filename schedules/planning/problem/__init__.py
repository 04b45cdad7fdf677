"""The planning problem: its values, what a plan of it costs, its JSON, and how it is built from a room and a history."""
