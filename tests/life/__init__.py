"""Who lives where, from what was seen."""
