"""How often Python looks for garbage: seldom until the first screen stands, as usual from then on.

Loading makes many objects that all stay, and looking through them again and again takes a seventh of the time to the
first screen.
"""

from __future__ import annotations

import gc
from typing import Final

ROOMY: Final = (100_000, 20, 20)
_usual = gc.get_threshold()
_to_keep = False


def seldom() -> None:
    """Look for garbage less often, until `as_usual`."""
    global _to_keep
    gc.set_threshold(*ROOMY)
    _to_keep = True


def as_usual() -> None:
    """What is loaded stays and is not looked through again; from here on as usual. Nothing without `seldom` before."""
    if gc.get_threshold() == ROOMY:
        gc.freeze()
        gc.set_threshold(*_usual)


def keep_once() -> None:
    """What was worked out beside the first screen stays too: looking through it would hold up a key now and then."""
    global _to_keep
    if _to_keep:
        _to_keep = False
        gc.freeze()
