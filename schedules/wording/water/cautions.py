"""What to beware of with salts, remedies, acid and water, one line each."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from schedules.water.makeup.cautions import Caution

CAUTIONS: Final[Mapping[Caution, str]] = {
    "sheets": "The sheet that comes with a salt, a test or a remedy and your local code go before anything said here.",
    "copper": "Copper kills shrimp at micrograms per litre: no salt or remedy that holds it, no water from new pipes.",
    "acid_and_lye": "Acid and lye burn: goggles and gloves, acid into water and never water into acid, none in a tank.",
    "wet_hands": "Unplug the heater before the level falls; dry hands at every plug, a drip loop on every cord.",
}
"""By code; where each comes from stands in `schedules.water.makeup.cautions.SOURCES`."""
