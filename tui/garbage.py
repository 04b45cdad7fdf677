"""When Python looks for garbage: not while the program starts, when nearly all that is made stays.

Without this, a sixth of a start's processor time goes into looking through modules that have just been loaded.
"""

from __future__ import annotations

import gc


def put_off() -> None:
    """Do not look for garbage for now."""
    gc.disable()


def go_on() -> None:
    """Look for garbage from now on where that was put off, and never again at what is there already."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()
