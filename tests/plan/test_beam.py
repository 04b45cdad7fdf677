"""The search from day to day keeps one of the plans that agree, and all that do not."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from schedules.plan.beam import _agreeing

WAYS = 256


@given(
    feeds=st.integers(1, 24),
    data=st.data(),
)
def test_plans_agree_only_where_all_clocks_and_all_memories_do(feeds: int, data: st.DataObject) -> None:
    clock = data.draw(arrays.arrays(np.int64, (1, 6, feeds), elements=st.sampled_from([0, 1, WAYS - 1])))
    memory = data.draw(arrays.arrays(np.int64, (1, 6), elements=st.integers(0, 2)))
    states = [(memory[0, plan], *clock[0, plan]) for plan in range(6)]
    expected = [state in states[:plan] for plan, state in enumerate(states)]
    assert _agreeing(clock, memory, WAYS)[0].tolist() == expected
