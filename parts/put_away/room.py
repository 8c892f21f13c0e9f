"""Putting away: many things into one crate, one tag after the other."""

from core.web.rooms import Room

ROOM = Room(urls="parts.put_away.urls")
