"""What phones kept and send later, and the service worker."""

from core.web.rooms import Room

ROOM = Room(urls="workshop.outbox.urls")
