"""Where the program starts: `rackround`, or `python -m tui`."""

from __future__ import annotations

import sys

from tui.cli.main import run


def main() -> None:
    """Run the program with the command line's words and exit with its code."""
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
