"""Hold points, and their releases."""

from core.web.rooms import LOCOMOTIVE, Protected, Room, Way

ROOM = Room(
    urls="parts.holds.urls",
    ways=(Way("holds", "i-warn", "Hold points", LOCOMOTIVE, 50),),
    protected=(Protected("parts_holdrelease", "A release is never changed; when it lapses, have another."),),
)
