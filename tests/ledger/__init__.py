"""The ledger: what it keeps whatever happens, and that it never takes the same mark twice."""
