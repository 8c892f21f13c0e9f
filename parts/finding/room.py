"""Finding anything by its words, and filters that are kept."""

from core.web.rooms import BAR, SHED, Room, Way

ROOM = Room(
    urls="parts.finding.urls",
    ways=(
        Way("find", "i-find", "Find", BAR, 10),
        Way("find", "i-find", "Find anything", SHED, 40),
    ),
)
