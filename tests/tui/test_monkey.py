"""A short run of the monkey; thousands of steps are run by `python -m tests.tui.monkey --steps 5000`."""

from __future__ import annotations

import asyncio

import pytest

from tests.tui.monkey import run

STEPS = 60


@pytest.mark.parametrize("seed", [11, 12])
def test_random_keys_taps_pastes_and_resizes_bring_nothing_down(seed: int) -> None:
    asyncio.run(run(seed, STEPS))
