"""All that was ever done with a thing, back to the beginning; its own page shows the latest of it."""

from core.web.rooms import Room

ROOM = Room(urls="parts.history.urls")
