"""The measuring sheet, judged as it is typed."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.measuring.urls")
