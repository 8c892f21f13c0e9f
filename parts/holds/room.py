"""Hold points, and their releases."""

from core.web.rooms import LOCOMOTIVE, Room, Way

ROOM = Room(
    urls="parts.holds.urls",
    ways=(Way("holds", "i-warn", "Hold points", LOCOMOTIVE, 50),),
)
