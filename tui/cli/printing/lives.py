"""`rackround saw` and `rackround lives`: what was seen of the animals, and who lives where because of it."""

from __future__ import annotations

from argparse import Namespace
from datetime import date
from typing import Any

from schedules.formatting import date_text
from schedules.history.life import Disagreement, Life, life_of
from schedules.ledger import Sighting
from schedules.ledger.entries.animals.sighting import LEAVING
from schedules.room import Presence, Room, Tank
from schedules.room.heads import BROOD, Heads
from schedules.room.kinds import STAGES
from schedules.session.doubts.animals import stage_meant
from schedules.wording.animals.lives import animals_text, disagreement_text, heads_text
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session, tank_named


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
        if asked.json:
            say_json(_document(life, tanks, day))
            return OK
        say(f"{room.name}, {date_text(day)} {day.year}")
        for tank in tanks:
            _print_tank(life, tank, day, whole=asked.tank is not None)
    return OK


def _print_tank(life: Life, tank: Tank, day: date, *, whole: bool) -> None:
    counts = {stage: tank.count(stage, day) for stage in STAGES}
    say(f"{tank.label}: {heads_text(counts)}")
    for here in tank.animals:
        if here.on(day) and (whole or here.expected or here.hatched is not None):
            say(f"  {animals_text(here, day)}")
    for each in _disagreements(life, tank, day) if whole else ():
        say(f"  does not fit, {disagreement_text(each)}")


def _disagreements(life: Life, tank: Tank, day: date) -> list[Disagreement]:
    return [each for each in life.disagreements if each.tank == tank.id and each.day <= day]


def _document(life: Life, tanks: list[Tank], day: date) -> dict[str, Any]:
    return {
        "format": "rackround-lives/1",
        "date": day.isoformat(),
        "tanks": [
            {
                "tank": tank.id,
                "heads": {stage: tank.count(stage, day) for stage in STAGES},
                "animals": [_animals_json(here) for here in tank.animals if here.on(day)],
                "disagreements": [_disagreement_json(each) for each in _disagreements(life, tank, day)],
            }
            for tank in tanks
        ],
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
