"""How long a tank's quarantine lasts, what ends it and which tools it has, in plain English."""

from __future__ import annotations

from schedules.formatting import date_text, days_word
from schedules.room import Room
from schedules.session.doubts.animals import Isolation


def lasts_text(isolation: Isolation) -> str:
    """How long the quarantine of a tank lasts."""
    if isolation.days is None:
        return "quarantine without an end: no days are set"
    if isolation.arrived is None or isolation.until is None:
        return f"quarantine of {days_word(isolation.days)}: the day on which the last animals came in is not known"
    came = f"{days_word(isolation.days)} from the last animals that came in, {date_text(isolation.arrived)}"
    if isolation.over:
        return f"quarantine is over since {date_text(isolation.until)} ({came})"
    return f"quarantine until {date_text(isolation.until)} ({came})"


def stop_texts(room: Room, isolation: Isolation) -> tuple[str, str]:
    """What a quarantine asks of the keeper at the stop, how long it lasts, and what else has to be seen for its end."""
    tools = f"its own tools ({room.quarantine.tools})" if room.quarantine.tools else "its own tools"
    lasts = lasts_text(isolation).partition(" (")[0]  # the days behind it are read in `lives`
    ends = f"; it ends only if: {room.quarantine.ends}" if room.quarantine.ends else ""
    return f"QUARANTINE: last, with {tools}; wash hands after", f"{lasts[0].upper()}{lasts[1:]}{ends}"


def tools_text(room: Room) -> str:
    """The tools that go nowhere else."""
    return room.quarantine.tools or "its own net, tongs, syringe and cup"


def quarantine_texts(room: Room, isolation: Isolation) -> tuple[str, ...]:
    """What a keeper is to know of a quarantine tank, in a few lines."""
    texts = [lasts_text(isolation)]
    if room.quarantine.ends is not None:
        texts.append(f"it ends only if: {room.quarantine.ends}")
    texts.append(f"walked last; tools that go nowhere else: {tools_text(room)}")
    return tuple(texts)
