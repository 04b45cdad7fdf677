"""Commands about the shelf: what is there and what to order, and what came in, was opened, was weighed."""
