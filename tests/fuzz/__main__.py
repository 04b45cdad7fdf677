"""`python -m tests.fuzz SUBJECT [--runs N] [--seed S]`: try so many inputs, print and keep those taken wrongly.

The exit code is 1 where there are any. The same seed gives the same inputs.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.fuzz.limits import limit_memory, tried
from tests.fuzz.subjects import SUBJECTS


def main(words: Sequence[str]) -> int:
    """Try them."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("subject", choices=SUBJECTS)
    parser.add_argument("--runs", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(words)
    limit_memory()
    subject, wrong = SUBJECTS[asked.subject], 0
    for number, given in zip(range(asked.runs), subject.inputs(asked.seed), strict=False):
        if fault := tried(subject, given):
            wrong += 1
            kept = Path(tempfile.gettempdir()) / f"fuzz-{asked.subject}-{asked.seed}-{number}.json"
            kept.write_text(json.dumps(given), encoding="utf-8")
            sys.stdout.write(f"input {number}: {fault}; kept in {kept}\n")
            sys.stdout.flush()
    sys.stdout.write(f"{asked.runs} {asked.subject} of seed {asked.seed}, {wrong} taken wrongly\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
