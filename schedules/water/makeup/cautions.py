"""What to beware of when salts, acids or water are handled, as codes; where each comes from, beside it.

Local codes and product sheets go first; nothing here is medical, electrical or legal advice.
"""

from __future__ import annotations

from typing import Final, Literal

Caution = Literal["sheets", "copper", "acid_and_lye", "wet_hands"]

SOURCES: Final[dict[Caution, str]] = {
    "sheets": "common practice, no source",
    "copper": (
        "Macrobrachium nipponense 96-h LC50 0.0313 mg/L (Yang 2014, Biol Res 47:13, doi:10.1186/0717-6287-47-13); "
        "M. lanchesteri 32.3 µg/L (Toxicol Ind Health 2011, 27:523-530, doi:10.1177/0748233710391993); "
        "no figure for Neocaridina or Caridina was found"
    ),
    "acid_and_lye": "common practice, no source",
    "wet_hands": (
        "drip loop on every cord, no wet hands (OSSTF bulletin, Electrical Hazards Involving Aquariums in Schools); "
        "a breaker for leakage to ground cuts power in milliseconds (US CPSC release 89-031); "
        "heater off before the level is lowered: common practice, no source"
    ),
}
"""Every caution, with where it comes from."""


def cautions_for(*, salts: bool = False, changes: bool = False) -> tuple[Caution, ...]:
    """What to beware of where salts are weighed, and where water is taken out of a tank. Nothing twice."""
    found: tuple[Caution, ...] = ("sheets", "copper", "acid_and_lye") if salts else ()
    return (*found, "wet_hands") if changes else found
