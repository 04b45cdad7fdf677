"""Commands about the water: what was read and poured in, and what to pour in next."""
