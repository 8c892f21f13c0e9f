"""Undoing what one did by mistake, for ten minutes."""

from core.web.rooms import YOU, NavLink, Room

ROOM = Room(urls="parts.undoing.urls", nav=(NavLink("undo", "i-left", "Undo what you just did", YOU, 15, may="undo"),))
