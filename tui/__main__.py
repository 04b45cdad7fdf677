"""The program's door: `rackround`, or `python -m tui`."""

from __future__ import annotations

import gc
import sys
from typing import Final

ROOMY: Final = (100_000, 20, 20)
"""How many objects are made before Python looks for garbage: loading makes many that all stay, and looking through
them again and again takes a seventh of the time to the first screen."""

USUAL: Final = gc.get_threshold()


def main() -> None:
    """Run the program with the command line's words and exit with its code."""
    gc.set_threshold(*ROOMY)
    # Imported here and not above: the import itself is what the line before speeds up.
    from tui.cli.main import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
