"""What is allowed beyond a limit."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.concessions.urls")
