"""Make-up water: what a tank has lost, what to pour in, which salts and changes bring it to its target.

In: a room, a history, a moment. Out: values, no words. Read `minerals.py` first.
"""
