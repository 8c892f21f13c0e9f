"""Tags: issued, tied, scanned, read from a photo or typed."""

from core.web.rooms import BAR, NavLink, Room

ROOM = Room(
    urls="parts.tags.urls",
    nav=(NavLink("scan", "i-scan", "Scan", BAR, 20),),
)
