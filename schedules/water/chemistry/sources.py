"""Where each formula comes from, as values, to show on demand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Formula = Literal["unionised", "chronic", "acute", "conductivity", "solids", "ewma", "theil_sen"]


@dataclass(frozen=True, slots=True)
class Source:
    """A formula, where it was published, and where it does not hold."""

    formula: str
    published: str
    holds: str


SOURCES: Final[dict[Formula, Source]] = {
    "unionised": Source(
        "part = 1 / (1 + 10^(pKa - pH)), pKa = 0.09018 + 2729.92 / (273.15 + °C)",
        "Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383",
        "0 to 50 °C, fresh water; some 7 % too high in moderately hard water, so on the safe side",
    ),
    "chronic": Source(
        "0.8876 (0.0278 / (1 + 10^(7.688 - pH)) + 1.1994 / (1 + 10^(pH - 7.688))) 2.126 × 10^(0.028 (20 - max(°C, 7)))",
        "US EPA 2013, EPA-822-R-13-001, 30-day average of total ammonia nitrogen",
        "rivers and lakes with all their animals; no limit for these shrimps was found",
    ),
    "acute": Source(
        "0.7249 (0.0114 / (1 + 10^(7.204 - pH)) + 1.6181 / (1 + 10^(pH - 7.204))) "
        "× min(51.93, 23.12 × 10^(0.036 (20 - °C)))",
        "US EPA 2013, EPA-822-R-13-001, one-hour average of total ammonia nitrogen, without salmonids",
        "as above",
    ),
    "conductivity": Source(
        "conductivity at 25 °C = reading × f25(°C), f25 from the standard's table",
        "ISO 7888:1985 (EN 27888:1993)",
        "natural water, 0 to 35 °C, 60 to 1000 µS/cm; 0.9 % from the usual 1.91 % a degree at 20 °C",
    ),
    "solids": Source(
        "TDS = conductivity at 25 °C × tds_factor of the room file",
        "Standard Methods 2510, quoted from memory: 0.55 to 0.70 for natural waters; about 0.5 for table salt",
        "a convention of each meter: compare only values of one factor",
    ),
    "ewma": Source(
        "z = λ x + (1 - λ) z; limits at mean ± L s √(λ / (2 - λ) (1 - (1 - λ)^2i))",
        "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4",
        "a steady mean before the change; the spread is taken from the tank's own readings",
    ),
    "theil_sen": Source(
        "the median of the slopes between all pairs of readings, with Sen's interval",
        "Sen 1968, J. Am. Stat. Assoc. 63:1379-1389",
        "steady trends; up to 29 % of the readings may be wrong",
    ),
}
