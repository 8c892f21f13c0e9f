"""Calendars that people subscribe to by a secret address."""

from core.web.rooms import YOU, NavLink, Room

ROOM = Room(urls="parts.calendars.urls", nav=(NavLink("my_calendar", "i-next", "Your calendar's address", YOU, 6),))
