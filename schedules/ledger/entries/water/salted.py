"""A mineral salt put into a tank."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from schedules.ledger.declaration import EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field


@dataclass(frozen=True, slots=True)
class SaltAdded(What):
    """Grams of a salt put into a tank, dissolved or not."""

    tank: Annotated[str, Field("the tank", empty=False)]
    salt: Annotated[str, Field("the salt", empty=False)]
    grams: Annotated[float, Field("how much", unit="g", most=100_000)]


def _words(what: SaltAdded, _day: date, names: Names) -> str:
    return f"{what.grams:.4g} g of {names.salt(what.salt)} put into {names.tank(what.tank)}"


SALTED = declare(EntryKind(name="salt_added", made=SaltAdded, meaning="a mineral salt put into a tank", words=_words))
