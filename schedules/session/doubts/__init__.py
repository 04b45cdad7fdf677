"""What speaks against writing something down, until the keeper insists.

`animals.py` against sightings, `water.py` against readings and what is poured in.
"""
