"""The same problem gives the same plan: in another process, with other hash seeds, in another order of the JSON."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from schedules.planning.problem.json import plan_to_json, problem_from_json
from schedules.planning.search import plan
from tests.bench.plan_rooms import invented_room

_SCRIPT = """
import json, sys
from schedules.planning.search import plan
from schedules.planning.problem.json import plan_to_json, problem_from_json
problem = problem_from_json(json.load(sys.stdin))
json.dump(plan_to_json(problem, plan(problem)), sys.stdout)
"""


@pytest.mark.long
@pytest.mark.parametrize("hash_seed", ["4711"])
def test_another_process_with_another_hash_seed_makes_the_same_plan(hash_seed: str) -> None:
    problem = invented_room(3, 3, tight=True, days=12)
    here = plan_to_json(problem, plan(problem))
    there = subprocess.run(
        [sys.executable, "-c", _SCRIPT],
        input=json.dumps(here),
        env={**os.environ, "PYTHONHASHSEED": hash_seed},
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(there.stdout) == json.loads(json.dumps(here))


def test_the_order_of_tanks_feeds_and_clocks_in_the_json_does_not_matter() -> None:
    problem = invented_room(3, 1, tight=False, days=12)
    turned = json.loads(json.dumps(plan_to_json(problem, plan(problem))))
    tanks = turned["problem"]["tanks"]
    turned["problem"]["tanks"] = {name: tanks[name] for name in reversed(tanks)}
    for tank in turned["problem"]["tanks"].values():
        tank["feeds"] = {name: tank["feeds"][name] for name in reversed(tank["feeds"])}
        tank["clocks"] = {name: tank["clocks"][name] for name in reversed(tank["clocks"])}
    assert plan(problem_from_json(turned)) == plan(problem)
