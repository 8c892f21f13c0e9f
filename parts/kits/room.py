"""Kits: what is ready for a subassembly, collected from where it lies."""

from core.web.rooms import STORES, NavLink, Room

ROOM = Room(urls="parts.kits.urls", nav=(NavLink("kits", "i-crate", "Kits being collected", STORES, 45),))
