"""The dimensions of a place, and the editions of their limits."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.sizes.urls")
