"""Who is in on which day, what people can do besides signing, and the hours of machines that work queues for."""

from core.web.rooms import WORKS, YOU, NavLink, Room

ROOM = Room(
    urls="parts.attendance.urls",
    nav=(
        NavLink("my_days", "i-person", "The days you come", YOU, 5),
        NavLink("who_is_in", "i-person", "Who is in", WORKS, 56, may="plan"),
        NavLink("machines", "i-place", "Machines that work queues for", WORKS, 57, may="plan"),
    ),
)
