"""How good and how fast the planner is, beside CP-SAT given the same problems: `python -m tests.bench.plan_bench`.

The reference bound is made of the optima of the single tanks at prices for minutes that come from the planner
(prices that add up to the weight make the sum a bound for the room, whoever solves the tanks). HiGHS works them
out (see `plan_flows`, which shares no code with the planner); it is asked about the tanks whose plan and bound are
apart by the planner's own account, and the better of the two bounds counts. The table says how many it was asked about
and how many of those it solved to the end. In rooms of up to twelve tanks better prices are looked for (see
`plan_columns`), and the table also says how far the plan is above the most that any prices prove. Times are CPU seconds
of one core. Each room is planned in a process of its own, so that memory is its own too.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import platform
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import partial
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from schedules.plan.block import Block
from schedules.plan.grid import NEVER, UNIT, Floats
from schedules.plan.search import RoomSearch
from schedules.problem.types import Problem, Slot
from tests.bench.plan_rooms import invented_room, next_day

if TYPE_CHECKING:
    from tests.bench.plan_reference import Solved

Made = TypeVar("Made")
_SMALL = 12  # tanks
_STEPS, _WIDTH = 40, 24  # what the planner's own bound is brought up to date with at other prices
_COLUMNS = 64  # plans of each tank, from the planner, to begin with where better prices are looked for
_TURNS = 10  # of looking for them
_APART = 0.001  # part of a tank's cost: plan and bound nearer than this leave nothing to ask about


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", default="6,48,240,1000")
    parser.add_argument("--seeds", type=int, default=4, help="rooms of each size, every second one with tight rules")
    parser.add_argument(
        "--cp-sat", type=float, default=0, help="seconds of both cores for CP-SAT; 0: 10 times ours, or 60"
    )
    parser.add_argument(
        "--per-tank", type=float, default=30, help="seconds of HiGHS for the optimum of one tank; 0: none"
    )
    parser.add_argument("--cp-sat-up-to", type=int, default=240, help="the largest room CP-SAT is asked about")
    parser.add_argument("--one", nargs=4, metavar=("TANKS", "SEED", "CP_SAT", "PER_TANK"), help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        tanks, seed, cp_sat, per_tank = asked.one
        json.dump(_measure(int(tanks), int(seed), float(cp_sat), float(per_tank)), sys.stdout)
        return
    sys.stdout.write(_machine() + "\n\n" + _HEAD + "\n")
    times: dict[int, list[float]] = {}
    for tanks in map(int, asked.sizes.split(",")):
        for seed in range(asked.seeds):
            # In a small room everything hangs together, so CP-SAT gets a minute.
            seconds = asked.cp_sat or (60 if tanks <= _SMALL else 0)
            cp_sat = seconds if tanks <= asked.cp_sat_up_to else -1
            found = _in_own_process(tanks, seed, cp_sat, asked.per_tank)
            times.setdefault(tanks, []).append(found["seconds"])
            sys.stdout.write(_row(found) + "\n")
            sys.stdout.flush()
    if 48 in times and 1000 in times:
        ratio = statistics.median(times[1000]) / statistics.median(times[48])
        sys.stdout.write(f"\ntime grows with tanks to the power of {math.log(ratio) / math.log(1000 / 48):.2f}\n")


_HEAD = (
    "| tanks | rules | seed | cost | own bound | above | reference bound | above | above the most prices prove "
    "| tanks asked, solved | CP-SAT | ours ÷ CP-SAT | plan s | a day later ÷ plan | cost a day later ÷ anew "
    "| a week later | one tank p95 ms | MiB |\n"
    "|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|"
)


def _row(found: dict[str, Any]) -> str:
    def above(bound: float | None) -> str:
        return "" if bound is None else f"{100 * (found['cost'] / bound - 1):.2f} %"

    def number(value: float | None) -> str:
        return "" if value is None else f"{value:.1f}"

    tanks = "" if found["reference"] is None else f"{found['asked']}, {found['solved']}"
    better = "" if found["cp_sat"] is None else f"{found['cost'] / found['cp_sat']:.3f}"
    asked = "" if found["cp_sat"] is None else f"{found['cp_sat']:.1f} in {found['cp_sat_seconds']:.0f} s"
    cells = [
        *(str(found["tanks"]), "tight" if found["tight"] else "ordinary", str(found["seed"])),
        *(number(found["cost"]), number(found["bound"]), above(found["bound"])),
        *(number(found["reference"]), above(found["reference"]), above(found["most"]), tanks, asked, better),
        *(f"{found['seconds']:.2f}", f"{found['later']:.2f}", f"{found['drift']:.3f}", f"{found['week']:.3f}"),
        *(f"{found['replan']:.0f}", f"{found['memory']:.0f}"),
    ]
    return "| " + " | ".join(cells) + " |"


def _in_own_process(tanks: int, seed: int, cp_sat: float, per_tank: float) -> dict[str, Any]:
    command = [sys.executable, "-m", "tests.bench.plan_bench", "--one", *map(str, (tanks, seed, cp_sat, per_tank))]
    one_core = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run(command, capture_output=True, text=True, check=True, env=one_core)
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def _measure(tanks: int, seed: int, cp_sat: float, per_tank: float) -> dict[str, Any]:
    from schedules.plan.planner import plan, replan_tank

    tight = seed % 2 == 1
    problem = invented_room(tanks, seed, tight)
    made, seconds = _timed(lambda: plan(problem))
    # ru_maxrss is in KiB on Linux, in bytes on macOS.
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024**2)
    tomorrow = next_day(problem, made.slots)
    later, later_seconds = _timed(lambda: plan(tomorrow, _a_day_on(made.slots)))
    anew = plan(tomorrow)
    week_on, end = tomorrow, later
    for _ in range(6):
        week_on = next_day(week_on, end.slots)
        end = plan(week_on, _a_day_on(end.slots))
    replans = [_timed(partial(replan_tank, tomorrow, later.slots, tank))[1] for tank in list(problem.tanks)[:40]]
    found: dict[str, Any] = {
        "tanks": tanks,
        "seed": seed,
        "tight": tight,
        "cost": made.cost.total,
        "bound": made.bound,
        "reference": None,
        "most": None,
        "asked": 0,
        "solved": 0,
        "cp_sat": None,
        "cp_sat_seconds": 0.0,
        "seconds": seconds,
        "later": later_seconds / seconds,
        "drift": later.cost.total / anew.cost.total,
        "week": end.cost.total / plan(week_on).cost.total,
        "replan": 1000 * statistics.quantiles(replans, n=20)[-1],
        "memory": memory,
    }
    if per_tank:
        _reference_bound(found, problem, per_tank)
    if cp_sat >= 0:
        _ask_cp_sat(found, problem, cp_sat or 10 * seconds)
    return found


def _a_day_on(slots: Iterable[Slot]) -> list[Slot]:
    """What a plan says of the days after its first, numbered from the next day."""
    return [Slot(slot.day - 1, slot.tank, slot.feed) for slot in slots if slot.day > 0]


def _reference_bound(found: dict[str, Any], problem: Problem, seconds: float) -> None:
    from schedules.plan.planner import searched

    room = searched(problem)
    own = dict(room.bounds)
    # Any prices that add up to the weight give a bound. The planner's own is best at prices that suit its own proof,
    # that of the optima mostly at those at which the known plans level the rounds.
    at_own = room.bound_prices
    first = _bound_at(room, at_own, own, seconds)
    levelling = room.levelling(at_own)
    room.seek(levelling, _STEPS, _WIDTH)
    proven = {
        name: float(bound) / UNIT
        for block in room.blocks
        for name, bound in zip(block.grid.tanks, block.proven, strict=True)
    }
    bounds = [(at_own, first), (levelling, _bound_at(room, levelling, proven, seconds))]
    price, best = max(bounds, key=lambda bound: bound[1]["reference"])
    found |= best
    if len(problem.tanks) <= _SMALL:
        _most_proven(found, room, price, seconds)


def _most_proven(found: dict[str, Any], room: RoomSearch, price: Floats, seconds: float) -> None:
    """What better prices prove, and the most that any do: in a small room the bound hangs on them."""
    from tests.bench.plan_columns import prove

    plans = {name: known for block in room.blocks for name, known in _known_plans(block).items()}
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as solvers:

        def optima(prices: Mapping[tuple[int, str], float]) -> Mapping[str, Solved]:
            return dict(zip(plans, solvers.map(partial(_solved, room.problem, seconds, prices), plans), strict=True))

        proven = prove(room.problem, plans, _by_round(room, price), optima, _TURNS)
    found |= {"reference": max(found["reference"], proven.bound), "most": proven.most}


def _known_plans(block: Block) -> dict[str, list[tuple[Slot, ...]]]:
    found: dict[str, list[tuple[Slot, ...]]] = {name: [] for name in block.grid.tanks}
    for number in range(min(_COLUMNS, block.pool.costs.shape[1])):
        slots = list(block.slots(np.full(len(block.grid.tanks), number)))
        for name, costs in zip(block.grid.tanks, block.pool.costs[:, number], strict=True):
            if costs < NEVER:
                found[name].append(tuple(slot for slot in slots if slot.tank == name))
    return found


def _by_round(room: RoomSearch, price: Floats) -> dict[tuple[int, str], float]:
    days = range(room.problem.days)
    return {(day, name): float(price[day, number]) for day in days for number, name in enumerate(room.rounds)}


def _bound_at(room: RoomSearch, price: Floats, own: Mapping[str, float], seconds: float) -> dict[str, float]:
    """The room's bound at prices for minutes, and of how many tanks the optimum was asked and found."""
    problem = room.problem
    prices = _by_round(room, price)
    least = {
        name: float(cost) / UNIT
        for block in room.blocks
        for name, cost in zip(block.grid.tanks, block.least(price), strict=True)
    }
    asked = [name for name, bound in own.items() if least[name] - bound > _APART * least[name]]
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as solvers:
        answers = list(solvers.map(partial(_solved, problem, seconds, prices), asked))
    bounds = dict(own) | {name: max(own[name], answer.bound) for name, answer in zip(asked, answers, strict=True)}
    return {
        "reference": sum(bounds.values()),
        "asked": len(asked),
        "solved": sum(answer.optimal for answer in answers),
    }


def _solved(problem: Problem, seconds: float, prices: Mapping[tuple[int, str], float], name: str) -> Solved:
    """One tank at prices for minutes.

    What HiGHS leaves open CP-SAT is asked as well: it proves overdue days better.
    """
    from tests.bench import plan_flows, plan_reference
    from tests.bench.plan_columns import alone

    answer = plan_flows.solve(alone(problem, name), seconds, prices)
    if answer.optimal:
        return answer
    other = plan_reference.solve(alone(problem, name), seconds, minute_prices=prices)
    cheaper = min(answer, other, key=lambda solved: solved.cost)
    return replace(cheaper, bound=max(answer.bound, other.bound), optimal=other.optimal)


def _ask_cp_sat(found: dict[str, Any], problem: Problem, seconds: float) -> None:
    from tests.bench.plan_reference import solve

    found["cp_sat_seconds"] = seconds
    found["cp_sat"] = solve(problem, seconds, workers=2).cost


def _timed(work: Callable[[], Made]) -> tuple[Made, float]:
    start = time.process_time()
    made = work()
    return made, time.process_time() - start


def _machine() -> str:
    return (
        f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, "
        f"Python {platform.python_version()}, NumPy {np.__version__}"
    )


if __name__ == "__main__":
    main()
