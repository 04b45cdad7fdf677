"""The kinds of entry, one file each: what can be written in the ledger.

In: nothing. Out: the dataclasses of what entries say, each declared with its fields, rules, words and schema versions.
Read `served.py` first. A new kind is a new file here; every file of this folder and of those below it is taken in.
"""

from importlib import import_module
from pkgutil import walk_packages

from schedules.ledger.entries.acknowledged import Acknowledged
from schedules.ledger.entries.animals.sighting import Saw, Sighting
from schedules.ledger.entries.came import Came, Response
from schedules.ledger.entries.chores.chore import ChoreMark
from schedules.ledger.entries.noted import Noted
from schedules.ledger.entries.observed import Leftovers, Observed
from schedules.ledger.entries.plan.away import Away
from schedules.ledger.entries.plan.back import Back
from schedules.ledger.entries.plan.posting import PostedServing, Posting
from schedules.ledger.entries.served import Served
from schedules.ledger.entries.skipped import Skipped
from schedules.ledger.entries.stock.delivered import Delivered
from schedules.ledger.entries.stock.opened import Opened
from schedules.ledger.entries.stock.weighed import Weighed
from schedules.ledger.entries.undone import Undone
from schedules.ledger.entries.water.added import WaterAdded
from schedules.ledger.entries.water.changed import WaterChanged
from schedules.ledger.entries.water.reading import Reading
from schedules.ledger.entries.water.salted import SaltAdded
from schedules.ledger.entry import AlreadyMarked, Entry, LedgerFault, LostEnd, What, feed_of, tank_of
from schedules.ledger.reason import Reason

for _module in walk_packages(__path__, f"{__name__}."):
    import_module(_module.name)

__all__ = [
    "Acknowledged",
    "AlreadyMarked",
    "Away",
    "Back",
    "Came",
    "ChoreMark",
    "Delivered",
    "Entry",
    "LedgerFault",
    "Leftovers",
    "LostEnd",
    "Noted",
    "Observed",
    "Opened",
    "PostedServing",
    "Posting",
    "Reading",
    "Reason",
    "Response",
    "SaltAdded",
    "Saw",
    "Served",
    "Sighting",
    "Skipped",
    "Undone",
    "WaterAdded",
    "WaterChanged",
    "Weighed",
    "What",
    "feed_of",
    "tank_of",
]
