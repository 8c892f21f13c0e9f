"""The crack check: its form, its marks on a photo, its record."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.cracks.urls")
