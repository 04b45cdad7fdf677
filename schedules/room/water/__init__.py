"""Water as values: which quantities are read, in which units, and between which values they are to stay.

In: numbers as a keeper reads them. Out: numbers in the domain's units, and back. Read `quantities.py` first.
"""
