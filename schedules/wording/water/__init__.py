"""Words about the water: what speaks against a reading, what was found in the readings."""
