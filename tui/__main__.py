"""The program's door: `rackround`, or `python -m tui`."""

from __future__ import annotations

import sys

from tui import garbage


def main() -> None:
    """Run the program with the command line's words and exit with its code."""
    garbage.seldom()
    # Imported here and not above: the import itself is what the line before speeds up.
    from tui.cli.main import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
