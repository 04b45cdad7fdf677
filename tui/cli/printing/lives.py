"""`rackround saw` and `rackround lives`: what was seen of the animals, and who lives where because of it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from schedules.formatting import date_text
from schedules.history.life import Disagreement, Life, life_of
from schedules.ledger import Sighting
from schedules.ledger.entries.animals.sighting import LEAVING, SIGHTING
from schedules.review.lines import lines_of_tanks
from schedules.room import Presence, Room, Tank
from schedules.room.heads import BROOD, Heads
from schedules.room.kinds import STAGES
from schedules.session.doubts.animals import isolation_of, stage_meant
from schedules.wording.animals.lives import animals_text, disagreement_text, tank_text
from schedules.wording.animals.quarantine import lasts_text, quarantine_texts
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session, tank_named


def record_sighting(options: Options, asked: Namespace) -> int:
    """Record what was seen of a tank's animals, or became of them."""
    with open_session(options, "today") as session:
        tank = tank_named(session.room, asked.tank)
        heads = _heads(asked)
        what = Sighting(
            tank.id,
            asked.saw,
            _stage(tank, asked, asked.on or session.day),
            heads.number,
            heads.exact,
            to=_target(session.room, tank, asked),
            source=_text(asked, "source", "added"),
            line=asked.line or None,
            grade=asked.grade or None,
            berried=_berried(asked, heads),
        )
        return ended(session, session.saw(what, day=asked.on, anyway=asked.anyway), "--anyway records it all the same")


def _heads(asked: Namespace) -> Heads:
    if asked.heads is not None:
        if asked.heads == 0 and asked.saw not in ("count", "berried", "eyed"):
            raise CommandFault(f"--heads 0: found 0 for {asked.saw}, allowed is 1 or more")
        return Heads(asked.heads)
    if asked.about is not None:
        return Heads(asked.about, asked.about == 1)
    if asked.saw in ("berried", "eyed"):
        return Heads(1)
    if asked.saw == "hatch":
        return Heads(BROOD, False)
    raise CommandFault(f"say how many for {asked.saw}: --heads N, or --about with a size class")


def _berried(asked: Namespace, heads: Heads) -> int | None:
    """How many of those that left carried eggs."""
    given: int | None = asked.berried
    if given is not None and (asked.saw not in LEAVING or asked.stage not in (None, "adult")):
        raise CommandFault("--berried belongs to adults that were moved, sold, culled or found dead")
    if given is not None and given > heads.range[1]:
        raise CommandFault(f"--berried: found {given}, allowed is at most {heads.range[1]}, as many as left")
    return given


def _stage(tank: Tank, asked: Namespace, day: date) -> Any:
    meant = stage_meant(tank, asked.saw, day)
    if asked.saw in ("hatch", "berried", "eyed") and asked.stage not in (None, meant):
        raise CommandFault(f'--stage: found "{asked.stage}" for {asked.saw}, allowed is {meant}')
    return asked.stage or ("adult" if asked.berried is not None else meant)


def _target(room: Room, tank: Tank, asked: Namespace) -> str | None:
    if (asked.saw == "moved") != (asked.to is not None):
        raise CommandFault("--to TANK belongs to moved, and moved needs it")
    if asked.to is None:
        return None
    if tank_named(room, asked.to).id == tank.id:
        raise CommandFault(f"--to: found {tank.id}, allowed is another tank")
    return str(asked.to)


def _text(asked: Namespace, key: str, saw: str) -> str | None:
    given: str | None = getattr(asked, key)
    if given and asked.saw != saw:
        raise CommandFault(f"--{key}: found it for {asked.saw}, allowed is it for {saw}")
    return given or None


def print_lives(options: Options, asked: Namespace) -> int:
    """Print who lives where on a day, and what does not fit."""
    with open_session(options, "nothing") as session:
        day = asked.on or session.day
        room = session.room_on(day)
        # Of one tank all that ever did not fit; of all tanks what is known without reading everything.
        life = life_of(session.ledger, session.file_room) if asked.tank else session.life
        tanks = [tank_named(room, asked.tank)] if asked.tank else [room.tanks[tank] for tank in room.walk]
        # Which line came into a tank is looked up for one tank only: it needs all that was ever seen.
        seen = session.ledger.of_kind(SIGHTING.name) if asked.tank else ()
        shown = _Shown(room, life, lines_of_tanks(seen, session.file_room), day)
        if asked.json:
            say_json(_document(shown, tanks))
            return OK
        say(f"{room.name}, {date_text(day)} {day.year}")
        for tank in tanks:
            _print_tank(shown, tank, whole=asked.tank is not None)
    return OK


class _Shown(NamedTuple):
    """What is shown of tanks: the room as it is lived in, its life, the lines of tanks, and the day."""

    room: Room
    life: Life
    lines: Mapping[str, str]
    day: date


def _print_tank(shown: _Shown, tank: Tank, *, whole: bool) -> None:
    day = shown.day
    say(tank_text(tank, day, shown.lines.get(tank.id)))
    for here in tank.animals:
        if here.on(day) and (whole or here.expected or here.hatched is not None):
            say(f"  {animals_text(here, day)}")
    isolation = isolation_of(tank, shown.life, day)
    if tank.quarantine and whole:
        for text in quarantine_texts(shown.room, isolation):
            say(f"  {text}")
    elif tank.quarantine:
        say(f"  {lasts_text(isolation)}")
    for each in _disagreements(shown.life, tank, day) if whole else ():
        say(f"  does not fit, {disagreement_text(each)}")


def _disagreements(life: Life, tank: Tank, day: date) -> list[Disagreement]:
    return [each for each in life.disagreements if each.tank == tank.id and each.day <= day]


def _document(shown: _Shown, tanks: list[Tank]) -> dict[str, Any]:
    day = shown.day
    return {
        "format": "rackround-lives/1",
        "date": day.isoformat(),
        "tanks": [
            {
                "tank": tank.id,
                "line": shown.lines.get(tank.id),
                "generation": tank.generation,
                "heads": {stage: tank.count(stage, day) for stage in STAGES},
                "animals": [_animals_json(here) for here in tank.animals if here.on(day)],
                "quarantine": _quarantine_json(shown, tank) if tank.quarantine else None,
                "disagreements": [_disagreement_json(each) for each in _disagreements(shown.life, tank, day)],
            }
            for tank in tanks
        ],
    }


def _quarantine_json(shown: _Shown, tank: Tank) -> dict[str, Any]:
    isolation, rules = isolation_of(tank, shown.life, shown.day), shown.room.quarantine
    return {
        "days": isolation.days,
        "arrived": _iso(isolation.arrived),
        "until": _iso(isolation.until),
        "over": isolation.over,
        "ends": rules.ends,
        "tools": rules.tools,
    }


def _animals_json(here: Presence) -> dict[str, Any]:
    return {
        "stage": here.stage,
        "heads": here.count,
        "berried": here.berried,
        "expected": here.expected,
        "hatched": _iso(here.hatched),
        "from": _iso(here.first),
        "to": _iso(here.last),
    }


def _disagreement_json(each: Disagreement) -> dict[str, Any]:
    low, high = each.seen.range
    return {
        "kind": each.kind,
        "date": each.day.isoformat(),
        "stage": each.stage,
        "known": each.known,
        "seen": {"heads": each.seen.number, "exact": each.seen.exact, "least": low, "most": high},
        "other_date": _iso(each.other),
    }


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
