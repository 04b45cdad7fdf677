"""`rackround stock`, `delivered`, `opened`, `weighed`: what is on the shelf, and what changes it."""

from __future__ import annotations

from argparse import Namespace
from datetime import date
from typing import Any

from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.stock import Outlook, Stock
from schedules.wording.stock.shelf import detail_lines, feed_text, order_lines
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import feed_named, open_session, plan_coming_days


def print_stock(options: Options, asked: Namespace) -> int:
    """Print what is there of each feed, when it runs out, and what to order."""
    with open_session(options, "today") as session:
        plan_coming_days(session, "planning the coming days, to see what they use …")
        stock = session.stock()
        if asked.json:
            say_json(stock_json(stock))
            return OK
        for each in stock.feeds:
            say(feed_text(session.room, each, stock.day))
            for line in detail_lines(each, stock.day):
                say(f"    {line}")
        orders = order_lines(session.room, stock)
        if orders:
            say()
            say("To order:")
        for line in orders:
            say(f"    {line}")
    return OK


def stock_json(stock: Stock) -> dict[str, Any]:
    """The shelf as a document."""
    return {
        "format": "rackround-stock/1",
        "date": stock.day.isoformat(),
        "feeds": [feed_json(each) for each in stock.feeds],
    }


def feed_json(each: Outlook) -> dict[str, Any]:
    """One feed of the shelf as a document."""
    shelf, pack, order = each.shelf, each.pack, each.order
    return {
        "feed": each.feed,
        "grams": shelf and {"likely": shelf.likely, "least": shelf.least, "most": shelf.most},
        "since": shelf and shelf.since.isoformat(),
        "weighed": shelf.weighed if shelf else False,
        "given": shelf.given if shelf else 0.0,
        "taken": shelf
        and {
            "likely": shelf.taken.likely,
            "least": shelf.taken.least,
            "most": shelf.taken.most,
            "weighings": shelf.taken.weighings,
        },
        "a_day": each.a_day,
        "weeks": [{"monday": day.isoformat(), "grams": grams} for day, grams in sorted(each.weeks.items())],
        "out": {"first": _iso(each.out_first), "likely": _iso(each.out_likely), "last": _iso(each.out_last)},
        "pack": pack and {"lot": pack.lot, "opened": pack.opened.isoformat(), "use_by": _iso(pack.use_by)},
        "unused": each.unused,
        "order": order and {"by": order.by.isoformat(), "grams": order.grams, "packs": order.packs},
    }


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def record_delivery(options: Options, asked: Namespace) -> int:
    """Record a delivery."""
    with open_session(options, "nothing") as session:
        feed, day = feed_named(session.room, asked.feed).id, _past(session, asked.on)
        return ended(session, session.deliver(feed, asked.grams, asked.lot, asked.use_by, day=day))


def record_opening(options: Options, asked: Namespace) -> int:
    """Record that a pack was opened."""
    with open_session(options, "nothing") as session:
        feed, day = feed_named(session.room, asked.feed).id, _past(session, asked.on)
        return ended(session, session.open_pack(feed, asked.lot, day=day))


def record_weighing(options: Options, asked: Namespace) -> int:
    """Record what was found on the shelf."""
    with open_session(options, "nothing") as session:
        feed, day = feed_named(session.room, asked.feed).id, _past(session, asked.on)
        outcome: Outcome = session.weigh(feed, asked.grams, day=day)
        return ended(session, outcome)


def _past(session: Session, on: date | None) -> date | None:
    if on is not None and on > session.day:
        raise CommandFault(f"--on {on.isoformat()} lies ahead; today is {session.day.isoformat()}")
    return on
