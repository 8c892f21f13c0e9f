"""The page of a piece, and what is done to it there, or to many at once."""

from core.web.rooms import Room

ROOM = Room(urls="parts.pieces.urls")
