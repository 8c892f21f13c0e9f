"""What a successor must match, read on a condemned piece."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.reproducing.urls")
