"""What blocks which subassembly, what to do next, and in what order it goes together."""

from core.web.rooms import BAR, LOCOMOTIVE, Room, Way

ROOM = Room(
    urls="parts.readiness.urls",
    ways=(
        Way("next_anywhere", "i-next", "Next", BAR, 30),
        Way("locomotives", "i-locomotive", "Locomotives", BAR, 40),
        Way("order", "i-locomotive", "Order of assembly", LOCOMOTIVE, 10),
    ),
)
