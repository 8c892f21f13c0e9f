"""The page on which a record is read over and signed: every figure, verdict and mark, and why it cannot be yet."""

from core.web.rooms import Room

ROOM = Room(urls="inspections.signing.urls")
