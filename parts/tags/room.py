"""Tags: issued, tied, scanned, read from a photo or typed."""

from core.web.rooms import BAR, Room, Way

ROOM = Room(
    urls="parts.tags.urls",
    ways=(Way("scan", "i-scan", "Scan", BAR, 20),),
)
