"""Which flags are set aside in a session: by the ledger, and by what waits to be saved as if it were saved."""

from __future__ import annotations

from schedules.history import History
from schedules.ledger import Acknowledged, Entry, Undone
from schedules.review.flags import Flag
from schedules.review.flags.acknowledged import acknowledgements, covers
from schedules.session.unsaved import Act, Unsaved


def setting_aside(flag: Flag, history: History, unsaved: Unsaved) -> tuple[Entry, ...]:
    """The entries that set a flag aside and are not about to be undone, oldest first."""
    undone = {what.act for act in unsaved.acts for what in act.what if isinstance(what, Undone)}
    return tuple(entry for entry in acknowledgements(flag, history) if entry.act not in undone)


def waiting(flag: Flag, unsaved: Unsaved) -> tuple[Act, ...]:
    """The unsaved acts that set a flag aside, oldest first."""
    return tuple(
        act
        for act in unsaved.acts
        if any(isinstance(what, Acknowledged) and covers(what, act.day, flag) for what in act.what)
    )


def seen_by(flag: Flag, history: History, unsaved: Unsaved) -> tuple[str, ...]:
    """Who has seen a flag and set it aside, the first one first; empty while it stands among the others."""
    names = [entry.by or "the program" for entry in setting_aside(flag, history, unsaved)]
    return tuple(dict.fromkeys((*names, *(act.by for act in waiting(flag, unsaved)))))
