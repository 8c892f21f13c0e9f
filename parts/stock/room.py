"""Plate and bar: received, cut, welded up."""

from core.web.rooms import WORKS, NavLink, Room

ROOM = Room(
    urls="parts.stock.urls",
    nav=(NavLink("stock", "i-crate", "Plate and bar", WORKS, 50),),
)
