"""Records as words and as PDF."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.reports.urls")
