"""Why a plan is as it is. In: a problem, a plan's slots, a serving or a place without one. Out: reasons as values.

Read `reasons.py` first: what a reason is. `why.py` says what speaks for a serving, `why_not.py` what keeps a feed away;
both derive it from the rules. Only `words.py` has plain English in it.
"""

from schedules.planning.explain.reasons import Code, Reason
from schedules.planning.explain.why import why
from schedules.planning.explain.why_not import why_not
from schedules.planning.explain.words import text, texts

__all__ = ["Code", "Reason", "text", "texts", "why", "why_not"]
