"""Copies of a ledger and the care of it: backup, export, import, copy, check, repair.

In: the place of a ledger. Out: another one, or findings in sentences. Read `verify.py` first.
"""
