"""Kits: what is ready for a subassembly, collected from where it lies."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(urls="parts.kits.urls", ways=(Way("kits", "i-crate", "Kits being collected", STORES, 45),))
