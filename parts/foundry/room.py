"""Patterns and castings, how much metals contract, and what a pattern must measure."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(
    urls="parts.foundry.urls",
    ways=(Way("patterns", "i-crate", "Patterns, core boxes and jigs", STORES, 20),),
)
