"""The United States EPA's 2013 ammonia criteria for fresh water (EPA-822-R-13-001), total ammonia nitrogen in mg/L.

They are written for rivers and lakes with all their animals, not for a tank; no limit for these animals was found, and
two species of them bred at more than the chronic criterion, so a load below it is no promise and one above it no
verdict.
"""

from __future__ import annotations


def chronic_criterion(ph: float, celsius: float) -> float:
    """The 30-day average that should not be exceeded (CCC), mg/L of total ammonia nitrogen, mussels present."""
    by_ph = 0.0278 / (1 + 10 ** (7.688 - ph)) + 1.1994 / (1 + 10 ** (ph - 7.688))
    return float(0.8876 * by_ph * 2.126 * 10 ** (0.028 * (20 - max(celsius, 7.0))))


def acute_criterion(ph: float, celsius: float, *, salmonids: bool = False) -> float:
    """The one-hour average that should not be exceeded (CMC), mg/L of total ammonia nitrogen.

    Without salmonids unless asked for. The form without salmonids was put together from memory; it gives every
    cell of the adopted tables.
    """
    by_ph = 0.7249 * (0.0114 / (1 + 10 ** (7.204 - ph)) + 1.6181 / (1 + 10 ** (ph - 7.204)))
    by_temperature = 23.12 * 10 ** (0.036 * (20 - celsius))
    if salmonids:
        of_salmonids = 0.275 / (1 + 10 ** (7.204 - ph)) + 39.0 / (1 + 10 ** (ph - 7.204))
        return float(min(of_salmonids, by_ph * by_temperature))
    return float(by_ph * min(51.93, by_temperature))
