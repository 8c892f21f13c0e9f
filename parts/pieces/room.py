"""The page of a piece, and what is done to it there, or to many at once."""

from core.web.rooms import Room

from .found import FOUND

ROOM = Room(urls="parts.pieces.urls", found=FOUND)
