"""The shelf in words: what there is, when it runs out, what to order."""

from __future__ import annotations

from datetime import date

from schedules.formatting import counted, date_text, day_text, grams_text
from schedules.room import Room
from schedules.stock import OpenPack, Order, Outlook, Shelf, Stock
from schedules.stock.shelf import Taken

HOW_TO_BEGIN = "weigh it once, or enter a delivery, and the days it lasts follow"


def feed_text(room: Room, each: Outlook, today: date) -> str:
    """One feed in one line, the most pressing first."""
    name = room.feeds[each.feed].name
    if each.shelf is None:
        return f"{name}: not weighed yet; {uses_text(each)}"
    return f"{name}: {held_text(each.shelf)}; {out_text(each, today)}; {uses_text(each)}"


def held_text(shelf: Shelf) -> str:
    """What there is, with its range."""
    if shelf.likely == 0:
        return "none left"
    low, high = grams_text(shelf.least), grams_text(shelf.most)
    return f"about {grams_text(shelf.likely)}" + (f" ({low} to {high})" if low != high else "")


def out_text(each: Outlook, today: date) -> str:
    """When it runs out, with its range."""
    if each.out_first is None:
        return "lasts more than two years" if each.a_day else "nothing is given of it"
    if each.out_first <= today:
        return "may not be enough for today"
    last = "later than two years" if each.out_last is None else date_text(each.out_last)
    if each.out_likely is None:
        return f"lasts at least to {date_text(each.out_first)}"
    return f"runs out about {date_text(each.out_likely)} ({date_text(each.out_first)} to {last})"


def uses_text(each: Outlook) -> str:
    """What leaves the shelf in a week."""
    return f"{grams_text(each.a_day * 7)} a week" if each.a_day else "not in the plan"


def since_text(shelf: Shelf) -> str:
    """Since when it is counted, and what losses are taken into account."""
    how = "weighed" if shelf.weighed else "delivered"
    return f"{how} {date_text(shelf.since)}, {grams_text(shelf.given)} given since; {taken_text(shelf.taken)}"


def taken_text(taken: Taken) -> str:
    """How much more leaves the shelf than is given."""
    more = f"{(taken.likely - 1) * 100:+.0f} % ({(taken.least - 1) * 100:+.0f} to {(taken.most - 1) * 100:+.0f} %)"
    if taken.weighings == 0:
        return f"losses {more}: common practice, no source, until it is weighed twice"
    return f"losses {more}, from {taken.weighings} weighings"


def pack_text(pack: OpenPack, today: date) -> str:
    """The pack that is open."""
    text = f"open since {date_text(pack.opened)}"
    if pack.lot is not None:
        text += f", lot {pack.lot}"
    if pack.use_by is None:
        return text
    return f"{text}, {'use by' if pack.use_by >= today else 'past its date since'} {_with_year(pack.use_by, today)}"


def _with_year(day: date, today: date) -> str:
    return date_text(day) if day.year == today.year else f"{date_text(day)} {day.year}"


def order_text(order: Order, today: date) -> str:
    """What to order until when."""
    amount = grams_text(order.grams)
    if order.packs is not None:
        amount = f"{counted(order.packs, 'pack')}, {amount}"
    when = "now" if order.by <= today else f"by {day_text(order.by, today)}"
    return f"order {amount} {when}"


def weeks_text(each: Outlook) -> str:
    """What the posted plan gives, week by week."""
    weeks = sorted(each.weeks.items())
    if not weeks:
        return "nothing is planned"
    return f"planned by week from {date_text(weeks[0][0])}: " + ", ".join(grams_text(grams) for _, grams in weeks)


def order_lines(room: Room, stock: Stock) -> list[str]:
    """The order list, the most pressing first."""
    return [
        f"{room.feeds[each.feed].name}: {order_text(each.order, stock.day)}; {out_text(each, stock.day)}"
        for each in stock.orders
        if each.order is not None
    ]


def order_now_lines(room: Room, stock: Stock) -> list[str]:
    """What runs out before a delivery ordered today would come, a line a feed, the most pressing first.

    What to do comes first: a narrow screen cuts the end.
    """
    return [
        f"{order_text(each.order, stock.day)}: {room.feeds[each.feed].name} {_runs_out(each, stock.day)}"
        for each in stock.order_now
        if each.order is not None
    ]


def _runs_out(each: Outlook, today: date) -> str:
    if each.out_first is not None and each.out_first <= today:
        return "may not be enough for today"
    day = each.out_likely or each.out_first
    return "runs out some day" if day is None else f"runs out about {date_text(day)}"


def detail_lines(each: Outlook, today: date) -> list[str]:
    """Everything else there is to say about a feed."""
    lines = [order_text(each.order, today)] if each.order is not None else []
    lines.append(since_text(each.shelf) if each.shelf else HOW_TO_BEGIN)
    if each.pack is not None:
        lines.append(pack_text(each.pack, today))
    if each.unused > 0 and each.pack is not None and each.pack.use_by is not None:
        lines.append(f"{grams_text(each.unused)} will not be used before its date")
    return [*lines, weeks_text(each)]
