"""Copies of a ledger file and the care of it: backup, export, import, check, repair.

In: the path of a ledger. Out: another file, or findings in sentences. Read `verify.py` first.
"""
