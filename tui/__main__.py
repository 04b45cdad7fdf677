"""Where the program starts: `rackround`, or `python -m tui`."""

from __future__ import annotations

import sys

from tui.garbage import put_off


def main() -> None:
    """Run the program with the command line's words and exit with its code."""
    put_off()
    # Imported here and not above: most of what a start takes is loading modules.
    from tui.cli.main import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
