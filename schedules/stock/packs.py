"""Which pack of a feed is open, and until when it may be used."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from schedules.ledger import Delivered, Entry, Opened
from schedules.room import Feed, Room


@dataclass(frozen=True, slots=True)
class OpenPack:
    """The pack that was opened last: its lot, since when it is open, and the last day on which it may be used.

    `use_by` is the earlier of the date on the pack and the end of the days for which an open pack keeps; None where
    neither is known.
    """

    lot: str | None
    opened: date
    use_by: date | None


def open_packs(room: Room, entries: Iterable[Entry]) -> dict[str, OpenPack]:
    """The open pack of each feed of which one was opened, from standing entries about the shelf."""
    listed = sorted(entries, key=lambda entry: (entry.day, entry.seq))
    opened = {entry.what.feed: entry for entry in listed if isinstance(entry.what, Opened)}
    return {feed: _pack(room.feeds[feed], entry, listed) for feed, entry in opened.items() if feed in room.feeds}


def _pack(feed: Feed, entry: Entry, listed: list[Entry]) -> OpenPack:
    assert isinstance(entry.what, Opened)
    dates = [_printed(entry.what, listed)]
    if feed.packs.keeps_days is not None:
        dates.append(entry.day + timedelta(days=feed.packs.keeps_days))
    known = [day for day in dates if day is not None]
    return OpenPack(entry.what.lot, entry.day, min(known) if known else None)


def _printed(what: Opened, listed: list[Entry]) -> date | None:
    """The date on a pack: that of the newest delivery of its lot; of a pack without a lot, of the newest delivery."""
    for entry in reversed(listed):
        if isinstance(entry.what, Delivered) and entry.what.feed == what.feed and what.lot in (None, entry.what.lot):
            return entry.what.use_by_day
    return None


def room_with_packs(room: Room, packs: Mapping[str, OpenPack]) -> Room:
    """The room in which the use-by date of each feed's open pack counts instead of the date in the room file."""
    feeds = {
        name: replace(feed, best_before=packs[name].use_by)
        if name in packs and packs[name].use_by is not None
        else feed
        for name, feed in room.feeds.items()
    }
    return room if feeds == room.feeds else replace(room, feeds=feeds)
