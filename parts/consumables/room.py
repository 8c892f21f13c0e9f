"""Consumables: joints, packings, split pins, worsted; in stock, wanted for which place, and ordered."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(
    urls="parts.consumables.urls",
    ways=(Way("consumables", "i-crate", "Consumables", STORES, 15),),
)
