"""Finding anything by its words, and filters that are kept."""

from core.web.rooms import BAR, SHED, NavLink, Room

ROOM = Room(
    urls="parts.finding.urls",
    nav=(
        NavLink("find", "i-find", "Find", BAR, 10),
        NavLink("find", "i-find", "Find anything", SHED, 40),
    ),
)
