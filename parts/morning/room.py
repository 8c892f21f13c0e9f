"""The first page of each person: what they can do now, in the one order, and whom to ring."""

from core.web.rooms import Room

ROOM = Room(urls="parts.morning.urls")
