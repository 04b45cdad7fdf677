"""What the program's words, signs, flags and numbers mean, as it tells the keeper."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from schedules.review.flags.types import FlagKind

WORDS: Final = (
    ("round", "one walk past the racks to feed; a stop is one tank of it, a serving one feed given there"),
    ("chore", "what is done beside feeding, at the same stops; a turn is one time it comes up, and may have some days"),
    ("table", "where a feed is eaten: fine (in the water), ground, fan; each has a ration of its own"),
    ("part", "what a serving takes of its table's ration of a day; a full day is 1"),
    ("hold back", "giving it now would break a rule: already given, a gap not over yet, leftovers, no ration left"),
    ("gap", "days between two servings of a feed, or between two answers of a need: at least and at most so many"),
    ("need", "what any of several feeds answers: fine feed, food on the ground, a staple, minerals; they take turns"),
    ("fine feed", "biofilm and powder, for the young. A tank's rest day holds back only what is eaten on the ground"),
    ("draws", "it gathers the adults at one spot, so that the shrimplets get the powder: staples and protein"),
    ("mix", "a feed stirred into tank water, so that small servings can be measured with a syringe"),
    ("posted", "written into the ledger as due; what was due on a past day never changes afterwards"),
    ("let go", "a missed serving that nothing makes up for: the feed simply comes at its next turn"),
    ("seen", "a flag that a keeper set aside: listed last for everyone, until there is more of it or it is worse"),
    ("as extra", "given although a rule stood against it; recorded so, and flagged"),
    ("reading", "one value read in a tank's water, with its day; a value of the room file is none"),
    ("band", "the values between which a quantity is to stay: a target, and beyond it limits"),
    ("step", "a reading far from the one before; a drift is a slow move away from the tank's own level"),
    ("top-off", "water poured in for what evaporated, which leaves its salts behind; a change takes water out first"),
    ("make-up water", "the water that goes in, pure or with salts"),
    ("leave plan", "what a helper gives on days away; once accepted it is what is due on these days"),
    ("pack", "one bag or bottle of a feed; its lot is the number its maker printed on it"),
)
SIGNS: Final = (
    ("2 due", "two servings or chores are still due at this stop"),
    ("!", "something here is held back, or flagged"),
    ("hold", "everything due here is held back"),
    ("✓ done", "nothing is due any more, something was given"),
    ("– left", "everything was left out, with a reason"),
    ("2 late", "as 2 due, and a need of the tank has waited beyond its longest gap"),
    ("later", "left for the end of the round"),
    ("kept !", "marked, but the ledger would not take it yet; it is kept and tried again"),
    ("■ x ? o ·", "in a strip of days: given, skipped, missed, due today, nothing"),
)
PLAN_SIGNS: Final = (
    ("·", "nothing is given"),
    ("-", "the tank's rest day"),
    ("*", "before the letters: other stages live in the tank from this day on"),
    ("+", "more feeds than there is room for"),
    ("off", "no keeper walks; it is a day off"),
    ("▃ min", "the minutes of the day's rounds, the columns against the longest day"),
)
FLAG_NAMES: Final[Mapping[str, str]] = {
    "over_ration": "over the ration",
    "under_gap": "too soon",
    "under_clock_gap": "too soon for its kind",
    "doubled": "given twice",
    "week_over_target": "too often this week",
    "leftovers": "leftovers",
    "leftovers_twice": "leftovers twice",
    "raised_after_leftovers": "more after leftovers",
    "powder_on_still": "powder on still water",
    "unaccompanied": "fed alone",
    "past_date": "past its date",
    "far_from_planned": "far from planned",
    "ammonia_load": "ammonia",
    "nobody_came": "nobody came",
    "no_fine_feed": "no fine feed",
    "no_fan_feed": "no suspension",
    "no_mineral": "no minerals",
    "nothing_given": "nothing given",
    "deaths": "deaths",
    "deaths_in_rack": "deaths in two tanks",
    "ammonia_read": "ammonia read",
    "water_of_rack": "water of the rack",
    "water_limit": "water beyond a limit",
    "water_step": "water changed in one step",
    "water_drift": "water drifts",
    "water_target": "water off its target",
}
"""Each kind of flag in a word or two; it is called so everywhere."""
FLAG_MEANS: Final[dict[FlagKind, str]] = {
    "over_ration": "More than a full day's ration was given on one day. What is not eaten fouls the water.",
    "under_gap": "A feed was given again before its own shortest gap was over.",
    "under_clock_gap": "Feeds of one kind were given closer than they may be.",
    "doubled": "A feed was given twice in one round, or twice on one day.",
    "week_over_target": "A need was answered on more days of the week than its target, by more than one.",
    "leftovers": "Food was found lying. The next servings are smaller, or wait.",
    "leftovers_twice": "Food was found lying twice in a row: the tank gets more than it eats.",
    "raised_after_leftovers": "More was given although leftovers had been reported before.",
    "powder_on_still": "Powder was strewn on a still surface, where it floats until it spoils.",
    "unaccompanied": "Fine feed was given beside adults and nothing that draws them, although that was due.",
    "past_date": "A feed was given after its best-before date.",
    "far_from_planned": "An amount far from the one due was recorded: a slip of the hand, or of the key.",
    "ammonia_load": "What was fed could add more ammonia than this water should carry. An estimate, on the safe side.",
    "nobody_came": "Nobody came to several feeds of one rack in one round: a matter of water, not of appetite.",
    "no_fine_feed": "Shrimplets have been without fine feed of any sort for longer than they may be.",
    "no_fan_feed": "Filter feeders have been without suspension for as long as they may be.",
    "no_mineral": "Minerals are late in a tank where shrimplets grow.",
    "nothing_given": "A tank with animals got nothing at all for days.",
    "deaths": "Three or more were found dead in a tank within a week.",
    "deaths_in_rack": "Animals were found dead in two tanks of a rack within a week: look for what they share.",
    "ammonia_read": "Ammonia was read above the chronic limit at the tank's own pH and temperature.",
    "water_of_rack": "All tanks of a rack or of several moved together: look at the meter and what they share.",
    "water_limit": "A reading lies beyond a limit of the room file.",
    "water_step": "A reading is far from the one before: shrimplets die of change more than of any value.",
    "water_drift": "A quantity moves away from the tank's own level, or will leave its target soon.",
    "water_target": "A reading lies outside of the target of the room file, within its limits.",
}
NUMBERS: Final = (
    ("minutes left", "the handling minutes of every serving still due and not held back, by the feed's rules"),
    ("an amount", "from the animals' need by stage and count, the feed's share, and what the tank left lying"),
    ("mL of a mix", "the amount divided by the strength of this round's mix, down to a mark of the smallest vessel"),
    ("last 3 days ago", "read off the ledger: planned or not, by whomever it was given"),
    ("1 of 2 days this week", "days since Monday on which the need was answered, of its target in a whole week"),
    ("days without", "days since the last serving of this feed to this tank"),
)
CAUTIONS: Final = (
    "Amounts are a plan: your eye at the tank decides. When in doubt give less.",
    "Mains and water: drip loops, dry hands, a residual-current device. Anything fixed is for a licensed electrician; "
    "local codes go first.",
    "Copper and ammonia kill shrimp in small amounts: read a feed's or a remedy's label before it goes in.",
    "Never release animals, plants or tank water into nature.",
)
