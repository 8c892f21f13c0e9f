"""What it costs, and the ledger of how original a locomotive is."""

from core.web.rooms import LOCOMOTIVE, Room, Way

ROOM = Room(
    urls="parts.money.urls",
    ways=(
        Way("ledger", "i-info", "How original it is, and where the old ones went", LOCOMOTIVE, 70),
        Way("money", "i-info", "Money: estimated, ordered, paid", LOCOMOTIVE, 80, may="read money"),
    ),
)
