"""How good and fast the planner is, beside CP-SAT and HiGHS given the same rooms: `python -m tests.bench.plan_bench`.

The reference bound is made of the optima of the single tanks at prices for minutes, worked out by HiGHS from a
statement of the rules that shares no code with the planner (`plan_flows`); in small rooms better prices are looked for
(`plan_columns`), and "the most" is what no prices surpass. CP-SAT gets the whole room, both cores and ten times the
planner's time, at least ten seconds. Every plan is judged by the checker. Times are processor seconds of one core. Each
room is planned in a process of its own, so that memory is its own too.
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
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from schedules.planning import checker
from schedules.planning.problem.types import Plan, Problem
from tests.bench.plan_document import document_of_plan
from tests.bench.plan_rooms import a_day_on, alone, invented_room, next_day

if TYPE_CHECKING:
    from tests.bench.plan_reference import Prices, Solved

Made = TypeVar("Made")
_SMALL, _MIDDLE = 12, 48  # tanks
_LEAST_CP_SAT = 10.0  # seconds


class Options(NamedTuple):
    """What is measured of one room."""

    tanks: int
    seed: int
    tight: bool
    turns: int
    """How many sets of prices HiGHS plans the tanks at; 0: none."""
    cp_sat: bool
    per_tank: float

    @classmethod
    def read(cls, numbers: Sequence[str]) -> Options:
        """The options from the numbers they were written as."""
        tanks, seed, tight, turns, cp_sat, per_tank = map(float, numbers)
        return cls(int(tanks), int(seed), bool(tight), int(turns), bool(cp_sat), per_tank)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", default="6,12,48,240,1000")
    parser.add_argument("--seeds", type=int, default=2, help="rooms of each size and rules")
    parser.add_argument("--cp-sat-up-to", type=int, default=240, help="the largest room CP-SAT is asked about")
    parser.add_argument("--reference-up-to", type=int, default=48, help="the largest room HiGHS is asked about")
    parser.add_argument("--per-tank", type=float, default=30, help="seconds of HiGHS for the optimum of one tank")
    parser.add_argument("--quick", action="store_true", help="one seed, up to 240 tanks, other solvers only up to 12")
    parser.add_argument("--one", nargs=6, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        json.dump(_measure(Options.read(asked.one)), sys.stdout)
        return
    if asked.quick:
        asked.sizes, asked.seeds, asked.cp_sat_up_to, asked.reference_up_to = "6,12,48,240", 1, _SMALL, _SMALL
    sys.stdout.write(f"{_machine()}\n\n{_HEAD}\n")
    found = []
    for tanks in map(int, asked.sizes.split(",")):
        turns = 0 if tanks > asked.reference_up_to else 1 if asked.quick else _turns(tanks)
        for seed in range(asked.seeds):
            for tight in (False, True):
                cp_sat = tanks <= asked.cp_sat_up_to
                found.append(_in_own_process(Options(tanks, seed, tight, turns, cp_sat, asked.per_tank)))
                sys.stdout.write(_row(found[-1]) + "\n")
                sys.stdout.flush()
    sys.stdout.write(_summary(found))


def _turns(tanks: int) -> int:
    """How many sets of prices are tried in a room."""
    return 8 if tanks <= _SMALL else 2 if tanks <= _MIDDLE else 1


_HEAD = (
    "| tanks | rules | seed | cost | own bound | above | reference bound | above | above the most prices prove "
    "| tanks asked, solved | CP-SAT | ours ÷ CP-SAT | plan s | a day later ÷ plan | cost a day later ÷ from nothing "
    "| cost a week later ÷ from nothing | MiB |\n"
    "|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|"
)


def _row(found: Mapping[str, Any]) -> str:
    def above(bound: float | None) -> str:
        return f"{100 * (found['cost'] / bound - 1):.2f} %" if bound else ""

    def number(value: float | None) -> str:
        return "" if value is None else f"{value:.1f}"

    tanks = "" if found["reference"] is None else f"{found['asked']}, {found['solved']}"
    better = f"{found['cost'] / found['cp_sat']:.3f}" if found["cp_sat"] else ""
    cp_sat = "" if found["cp_sat"] is None else f"{found['cp_sat']:.1f} in {found['cp_sat_seconds']:.0f} s"
    cells = [
        *(str(found["tanks"]), "tight" if found["tight"] else "ordinary", str(found["seed"])),
        *(number(found["cost"]), number(found["bound"]), above(found["bound"])),
        *(number(found["reference"]), above(found["reference"]), above(found["most"]), tanks, cp_sat, better),
        *(f"{found['seconds']:.2f}", f"{found['later']:.2f}", f"{found['drift']:.3f}", f"{found['week']:.3f}"),
        f"{found['memory']:.0f}",
    ]
    return "| " + " | ".join(cells) + " |"


def _summary(found: list[dict[str, Any]]) -> str:
    """The worst of each size, and how time grows."""
    lines, times = [""], {}
    for tanks in sorted({one["tanks"] for one in found}):
        here = [one for one in found if one["tanks"] == tanks]
        times[tanks] = statistics.median(one["seconds"] for one in here)
        gaps = [100 * (one["cost"] / one["bound"] - 1) for one in here if one["bound"]]
        worst = f", at most {max(gaps):.2f} % above its own bound" if gaps else ""
        lines.append(f"{tanks} tanks: {times[tanks]:.2f} s in the median{worst}")
    if _MIDDLE in times and max(times) > _MIDDLE:
        power = math.log(times[max(times)] / times[_MIDDLE]) / math.log(max(times) / _MIDDLE)
        lines.append(f"time grows with tanks to the power of {power:.2f} from {_MIDDLE} on")
    return "\n".join(lines) + "\n"


def _in_own_process(options: Options) -> dict[str, Any]:
    numbers = [str(float(option)) for option in options]
    command = [sys.executable, "-m", "tests.bench.plan_bench", "--one", *numbers]
    one_core = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True, env=one_core)
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def _measure(options: Options) -> dict[str, Any]:
    from schedules.planning.search import plan

    problem = invented_room(options.tanks, options.seed, options.tight)
    made, seconds = _timed(partial(plan, problem))
    # ru_maxrss is in KiB on Linux, in bytes on macOS.
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024**2)
    _judge(problem, made)
    found: dict[str, Any] = {
        "tanks": options.tanks,
        "seed": options.seed,
        "tight": options.tight,
        "cost": made.cost.total,
        "bound": made.bound,
        "seconds": seconds,
        "memory": memory,
        **dict.fromkeys(("reference", "most", "asked", "solved", "cp_sat", "cp_sat_seconds")),
        **_mornings(problem, made, seconds),
    }
    if options.turns:
        found |= _reference(problem, made, options.turns, options.per_tank)
    if options.cp_sat:
        from tests.bench.plan_reference import solve

        limit = max(_LEAST_CP_SAT, 10 * seconds)
        found |= {"cp_sat_seconds": limit, "cp_sat": solve(problem, limit, workers=2).cost}
        found["cp_sat"] = None if math.isinf(found["cp_sat"]) else found["cp_sat"]
    return found


def _judge(problem: Problem, made: Plan) -> None:
    """ValueError where the checker finds anything wrong with a plan."""
    if breaches := checker.check(document_of_plan(problem, made)):
        raise ValueError("; ".join(breach.text for breach in breaches[:5]))


def _mornings(problem: Problem, made: Plan, seconds: float) -> dict[str, float]:
    """A plan carried on for a day and for a week, beside plans from nothing on the same mornings."""
    from schedules.planning.search import plan

    morning = next_day(problem, made.slots)
    later, later_seconds = _timed(partial(plan, morning, a_day_on(made.slots)))
    _judge(morning, later)
    found = {"later": later_seconds / seconds, "drift": later.cost.total / plan(morning).cost.total}
    for _ in range(6):
        morning, before = next_day(morning, later.slots), later
        later = plan(morning, a_day_on(before.slots))
    _judge(morning, later)
    return {**found, "week": later.cost.total / plan(morning).cost.total}


def _reference(problem: Problem, made: Plan, turns: int, per_tank: float) -> dict[str, Any]:
    from tests.bench.plan_columns import prove

    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as solvers:

        def optima(prices: Prices) -> Mapping[str, Solved]:
            names = list(problem.tanks)
            return dict(zip(names, solvers.map(partial(_solved, problem, per_tank, prices), names), strict=True))

        proven = prove(problem, made.slots, optima, turns)
    most = proven.most if turns > 1 else None
    return {"reference": proven.bound, "most": most, "asked": proven.asked, "solved": proven.solved}


def _solved(problem: Problem, seconds: float, prices: Prices, name: str) -> Solved:
    from tests.bench import plan_flows

    return plan_flows.solve(alone(problem, name), seconds, prices)


def _timed(work: Callable[[], Made]) -> tuple[Made, float]:
    start = time.process_time()
    made = work()
    return made, time.process_time() - start


def _machine() -> str:
    return f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"


if __name__ == "__main__":
    main()
