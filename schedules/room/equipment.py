"""What the keeper measures and mixes with: scale, syringes, cups, jug."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Vessel:
    """A syringe or a graduated cup: what it holds and how far apart its marks stand, mL."""

    ml: float
    mark_ml: float
    syringe: bool = True


@dataclass(frozen=True, slots=True)
class QuarantineRules:
    """The room's protocol for its quarantine tanks, which are walked last.

    It lasts so many `days` from the last animals that came in, unless a tank says otherwise; None for one without an
    end. `ends` is what has to be seen as well, and `tools` what is used there only, both in the keeper's words.
    """

    days: int | None = None
    ends: str | None = None
    tools: str | None = None


@dataclass(frozen=True, slots=True)
class Tools:
    """What the keeper measures and mixes with.

    `scale_mg` is the scale's readability, None for no scale; `verified_mg` its verification interval e where it is a
    verified one of class III (pocket scales rarely are); `jug_error_ml` how far off a batch's water may be;
    `error` the largest error of a dose, as a part of it; `jug_ml` the largest batch that can be carried.

    `plain` is for keepers without scales: pinches, crumbs, pieces, a spoon tip, and no milligrams on the screen.
    `adults_per_piece`: one whole piece of a feed that draws for so many adults, at the least one. `doses_ml` are the
    volumes that mixes are dosed in, and these doubled and halved again; above `cup_above_ml` a dose is a cup from the
    jug. All common practice, no source. `canister_litres` holds the largest batch of make-up water, None for any.
    """

    scale_mg: float | None = 10.0
    syringes: tuple[Vessel, ...] = (
        Vessel(1, 0.02),
        Vessel(2, 0.1),
        Vessel(5, 0.2),
        Vessel(10, 0.5),
        Vessel(20, 1),
        Vessel(50, 1),
    )
    cups: tuple[Vessel, ...] = (Vessel(100, 10, syringe=False), Vessel(250, 25, syringe=False))
    jug_ml: float = 1000.0
    jug_error_ml: float = 0.5
    error: float = 0.15
    verified_mg: float | None = None
    plain: bool = False
    adults_per_piece: float = 18.0
    doses_ml: tuple[float, ...] = (4.0, 5.0, 6.0, 7.0)
    cup_above_ml: float = 60.0
    canister_litres: float | None = None
