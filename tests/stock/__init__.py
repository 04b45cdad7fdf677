"""The shelf: what is there, when it runs out, what to order."""
