"""When each subassembly and the locomotive could be together, and what that hangs on."""

from core.web.rooms import LOCOMOTIVE, WORKS, Room, Way

ROOM = Room(
    urls="parts.forecast.urls",
    ways=(
        Way("forecast", "i-next", "When will it be done?", LOCOMOTIVE, 5),
        Way("working_week", "i-hold", "Opening days and hands", WORKS, 55, may="plan"),
    ),
)
