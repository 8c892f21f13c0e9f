"""What to do on which sort of day: what sets most free, and the sheet of a working party."""

from core.web.rooms import LOCOMOTIVE, WORKS, NavLink, Room

ROOM = Room(
    urls="parts.day.urls",
    nav=(
        NavLink("sets_free", "i-next", "What unblocks the most", LOCOMOTIVE, 4),
        NavLink("day_sheets", "i-person", "Day sheets", WORKS, 54),
    ),
)
