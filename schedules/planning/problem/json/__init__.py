"""A planning problem and a plan as JSON, both ways, in the format `rackround-plan/2`.

Reading is strict: every key is there, none is unknown, and every number means something. The first fault found is
raised with its path inside the document, such as `problem.tanks.a1.clocks.greens.min_gap`.
"""

from schedules.planning.problem.json.fault import ProblemFault
from schedules.planning.problem.json.reading import problem_from_json
from schedules.planning.problem.json.writing import plan_to_json

__all__ = ["ProblemFault", "plan_to_json", "problem_from_json"]
