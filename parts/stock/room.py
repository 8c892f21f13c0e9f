"""Plate and bar: received, cut, welded up."""

from core.web.rooms import WORKS, Room, Way

ROOM = Room(
    urls="parts.stock.urls",
    ways=(Way("stock", "i-crate", "Plate and bar", WORKS, 50),),
)
