"""Consumables: joints, packings, split pins, worsted; in stock, wanted for which place, and ordered."""

from core.web.rooms import STORES, NavLink, Room

from .found import FOUND

ROOM = Room(
    urls="parts.consumables.urls",
    nav=(NavLink("consumables", "i-crate", "Consumables", STORES, 15),),
    found=FOUND,
)
