"""The shelf: what is there of each feed, when it runs out, what to order, which pack is open.

In: a room, entries of the ledger, postings, today. Out: values. Read `shelf.py` first, then `outlook.py`.
"""

from schedules.stock.outlook import Order, Outlook, outlook_of
from schedules.stock.packs import OpenPack, open_packs, room_with_packs
from schedules.stock.reading import Stock, stock_of
from schedules.stock.shelf import Shelf, shelf_of

__all__ = [
    "OpenPack",
    "Order",
    "Outlook",
    "Shelf",
    "Stock",
    "open_packs",
    "outlook_of",
    "room_with_packs",
    "shelf_of",
    "stock_of",
]
