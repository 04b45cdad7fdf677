"""A batch told step by step, as it is read at the bench."""

from __future__ import annotations

from typing import Final

from schedules.amounts.mixing.types import Batch, Dose
from schedules.formatting import amount_text, number_text
from schedules.room import Room, Vessel

SHAKE: Final = "Shake each mix before every dose, and throw away what is left after the round."


def batch_steps(room: Room, batch: Batch) -> tuple[str, ...]:
    """What to weigh, add and thin, in order; `SHAKE` comes after, and the doses are not among the steps."""
    feed = room.feeds[batch.feed]
    name = feed.name if feed.fine else f"{feed.name}, ground"
    if batch.measures is None:
        what = f"Weigh {batch.mass_mg / 1000:.2f} g of {name}"
    else:
        what = f"Measure {amount_text(batch.measures, feed.measure.name)} of {name}"
    made = "stock" if batch.dilutions else "mix"
    steps = [f"{what}.", f"Stir it into tank water to make {number_text(batch.water_ml)} mL of {made}."]
    for number, thinner in enumerate(batch.dilutions):
        last = number == len(batch.dilutions) - 1
        steps.append(
            f"Take {number_text(thinner.take_ml)} mL of it with the {vessel_text(thinner.vessel)} and fill up to "
            f"{number_text(thinner.to_ml)} mL with tank water{': the mix' if last else ''}. Throw the rest away."
        )
    return tuple(steps)


def dose_text(dose: Dose) -> str:
    """A dose in one line: `4.2 mL (5 mL syringe), 3.1 mg ± 6 %`."""
    fills = "" if dose.times == 1 else f"{dose.times} × "
    error = "" if dose.error is None else f" ± {dose.error:.0%}"
    return f"{fills}{number_text(dose.ml)} mL ({vessel_text(dose.vessel)}), {dose.mg:.3g} mg{error}"


def vessel_text(vessel: Vessel) -> str:
    """A vessel by its size: `5 mL syringe`."""
    return f"{number_text(vessel.ml)} mL {'syringe' if vessel.syringe else 'cup'}"
