"""Files to print and to read elsewhere: sheets and labels as PDF, sheets and reports as HTML.

In: texts and values. Out: a file. Read `leave.py` first. Needs the extra `paper`, which is imported nowhere else.
"""
