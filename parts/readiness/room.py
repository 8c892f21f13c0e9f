"""What blocks which subassembly, what to do next, and in what order it goes together."""

from core.web.rooms import BAR, LOCOMOTIVE, NavLink, Room

ROOM = Room(
    urls="parts.readiness.urls",
    nav=(
        NavLink("next_anywhere", "i-next", "Next", BAR, 30),
        NavLink("locomotives", "i-locomotive", "Locomotives", BAR, 40),
        NavLink("order", "i-locomotive", "Order of assembly", LOCOMOTIVE, 10),
    ),
)
