"""Water as values: which quantities are read, in which units.

In: numbers as a keeper reads them. Out: numbers in the domain's units, and back. Read `quantities.py` first.
"""
