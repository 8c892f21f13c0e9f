"""The first page of each person: what they can do now, in the one order, and whom to ring."""

from core.web.rooms import LOCOMOTIVE, NavLink, Room

ROOM = Room(
    urls="parts.morning.urls",
    nav=(
        NavLink("meeting", "i-next", "Weekly meeting", LOCOMOTIVE, 5),
        NavLink("over_time", "i-info", "Over time", LOCOMOTIVE, 6),
    ),
)
