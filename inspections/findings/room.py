"""What is decided of what an examination showed."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.findings.urls")
