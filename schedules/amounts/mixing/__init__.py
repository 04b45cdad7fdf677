"""Getting a round ready: cups weighed ahead, bottles and doses, the pick list with its minutes, when to look back."""

from schedules.amounts.mixing.ahead import bottles, weighings
from schedules.amounts.mixing.bottle import dose, goes_into_mix
from schedules.amounts.mixing.look_back import LookBack, look_back
from schedules.amounts.mixing.minutes import feed_minutes, preparation_minutes
from schedules.amounts.mixing.pick_list import Pick, Preparation, prepare
from schedules.amounts.mixing.types import Bottle, Cup, Dose, Weighing

__all__ = [
    "Bottle",
    "Cup",
    "Dose",
    "LookBack",
    "Pick",
    "Preparation",
    "Weighing",
    "bottles",
    "dose",
    "feed_minutes",
    "goes_into_mix",
    "look_back",
    "preparation_minutes",
    "prepare",
    "weighings",
]
