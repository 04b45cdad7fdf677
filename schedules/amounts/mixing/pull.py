"""What to take from the shelf, weigh, mix and carry before a round, in that order; quarantine's own tools last."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from schedules.amounts.mixing.batch import batches, goes_into_mix
from schedules.amounts.mixing.types import Batch
from schedules.amounts.mixing.words import SHAKE, batch_steps
from schedules.amounts.ration.serving import can_mix
from schedules.formatting import amount_text, mg_text, number_text
from schedules.ledger.entries import PostedServing
from schedules.room import Feed, Room, Vessel

Stage = Literal["shelf", "weigh", "mix", "carry", "quarantine"]


@dataclass(frozen=True, slots=True)
class Pull:
    """One thing to do before the round; `feed` None where it is not about one feed."""

    stage: Stage
    feed: str | None
    text: str


def pull_list(
    room: Room, servings: Iterable[PostedServing], mixes: tuple[Batch, ...] | None = None
) -> tuple[Pull, ...]:
    """Everything to get ready for the servings due in a round, in the order in which it is done.

    `mixes` are the servings' batches where these are known already.
    """
    due = [serving for serving in servings if serving.feed in room.feeds and serving.tank in room.tanks]
    mixes = batches(room, due) if mixes is None else mixes
    isolated = [serving for serving in due if room.tanks[serving.tank].quarantine]
    return (
        *_shelf(room, due),
        *_bench(room, mixes),
        *_carry(room, mixes, [serving for serving in due if not room.tanks[serving.tank].quarantine]),
        *_quarantine(room, mixes, isolated),
    )


def dry_total(room: Room, feed: Feed, due: Iterable[PostedServing]) -> tuple[float, int]:
    """What of a feed is carried dry for servings due: measures in all, and to how many tanks."""
    dry = [
        serving.amount_mg / feed.measure.mg
        for serving in due
        if serving.feed == feed.id and serving.amount_mg > 0 and not goes_into_mix(feed, serving, can_mix(room))
    ]
    return sum(dry), len(dry)


def _shelf(room: Room, due: list[PostedServing]) -> Iterator[Pull]:
    for feed in room.feeds.values():
        tanks = {serving.tank for serving in due if serving.feed == feed.id and serving.amount_mg > 0}
        if tanks:
            mg = sum(serving.amount_mg for serving in due if serving.feed == feed.id)
            count = "1 tank" if len(tanks) == 1 else f"{len(tanks)} tanks"
            yield Pull("shelf", feed.id, f"{feed.name}: {mg_text(mg)} for {count}")


def _bench(room: Room, mixes: tuple[Batch, ...]) -> Iterator[Pull]:
    for batch in mixes:
        yield Pull("weigh", batch.feed, batch_steps(room, batch)[0])
    for batch in mixes:
        for text in batch_steps(room, batch)[1:]:
            yield Pull("mix", batch.feed, f"{room.feeds[batch.feed].name}: {text[0].lower()}{text[1:]}")
    if mixes:
        yield Pull("mix", None, SHAKE)


def _carry(room: Room, mixes: tuple[Batch, ...], due: list[PostedServing]) -> Iterator[Pull]:
    yield from _dry(room, due, "carry")
    for batch in mixes:
        yield Pull("carry", batch.feed, f"{room.feeds[batch.feed].name}: the mix, and {_vessels(batch)}")


def _quarantine(room: Room, mixes: tuple[Batch, ...], due: list[PostedServing]) -> Iterator[Pull]:
    if not due:
        return
    yield Pull("quarantine", None, "Quarantine's own net, tongs, syringe and cup, which go nowhere else")
    tanks = {serving.tank for serving in due}
    for batch in mixes:
        ml = sum(dose.ml * dose.times for dose in batch.doses if dose.tank in tanks)
        if ml > 0:
            name = room.feeds[batch.feed].name
            yield Pull(
                "quarantine", batch.feed, f"{name}: pour {ml:.3g} mL of the mix into quarantine's cup beforehand"
            )
    yield from _dry(room, due, "quarantine")


def _dry(room: Room, due: list[PostedServing], stage: Stage) -> Iterator[Pull]:
    for feed in room.feeds.values():
        total, tanks = dry_total(room, feed, due)
        if tanks:
            yield Pull(stage, feed.id, f"{feed.name}: {amount_text(total, feed.measure.name)}")


def _vessels(batch: Batch) -> str:
    """The vessels of a batch's doses in one phrase: `syringes of 2 and 5 mL and a cup of 100 mL`."""
    used = sorted({dose.vessel for dose in batch.doses}, key=lambda vessel: vessel.ml)
    kinds = (("syringe", [each for each in used if each.syringe]), ("cup", [each for each in used if not each.syringe]))
    return " and ".join(_sizes(name, listed) for name, listed in kinds if listed)


def _sizes(name: str, listed: list[Vessel]) -> str:
    sizes = [number_text(vessel.ml) for vessel in listed]
    if len(sizes) == 1:
        return f"a {name} of {sizes[0]} mL"
    return f"{name}s of {', '.join(sizes[:-1])} and {sizes[-1]} mL"
