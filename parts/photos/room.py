"""Photos: taken in, made smaller, shown."""

from core.web.rooms import Room

ROOM = Room(urls="parts.photos.urls")
