"""Hostile input by the thousand: room files, problems, imports and command lines, each within limits.

`python -m tests.fuzz SUBJECT --runs 10000 --seed 7`; read `limits.py` first.
"""
