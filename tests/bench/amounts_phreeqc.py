"""The un-ionised part of ammonia beside what PHREEQC works out: `python -m tests.bench.amounts_phreeqc`.

Needs phreeqpython (`pip install phreeqpython`), which nothing else here does; the tests hold the program to the values
printed by this command.
"""

from __future__ import annotations

import importlib
import sys

from schedules.water import unionised_part

CELSIUS = (20, 25, 28, 30)
PH = (7.0, 7.5, 8.0, 8.5)
WITHIN = 0.003
"""Emerson and PHREEQC agree to this part at no ionic strength."""


def main() -> int:
    """Print the table; 0 where all of it agrees, 1 where it does not, 2 without phreeqpython."""
    try:
        phreeqpython = importlib.import_module("phreeqpython")
    except ModuleNotFoundError:
        sys.stderr.write("This check needs phreeqpython: pip install phreeqpython\n")
        return 2
    reference = phreeqpython.PhreeqPython(database="phreeqc.dat")
    worst = 0.0
    sys.stdout.write("| °C | pH | PHREEQC % | here % |\n|---|---|---|---|\n")
    for celsius in CELSIUS:
        for ph in PH:
            water = {"units": "mmol/kgw", "temp": celsius, "pH": ph, "N(-3)": 0.01}
            species = reference.add_solution(water).species
            theirs = species["NH3"] / (species["NH3"] + species["NH4+"])
            ours = unionised_part(ph, celsius)
            worst = max(worst, abs(ours / theirs - 1))
            sys.stdout.write(f"| {celsius} | {ph} | {100 * theirs:.3f} | {100 * ours:.3f} |\n")
    sys.stdout.write(f"\nFarthest apart: {worst:.2%} of the value; allowed {WITHIN:.1%}.\n")
    return 0 if worst <= WITHIN else 1


if __name__ == "__main__":
    sys.exit(main())
