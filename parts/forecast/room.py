"""When each subassembly and the locomotive could be together, and what that hangs on."""

from core.web.rooms import LOCOMOTIVE, WORKS, NavLink, Room

ROOM = Room(
    urls="parts.forecast.urls",
    nav=(
        NavLink("forecast", "i-next", "When will it be done?", LOCOMOTIVE, 5),
        NavLink("working_week", "i-person", "Opening days and hands", WORKS, 55, may="plan"),
    ),
)
