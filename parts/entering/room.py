"""How a piece comes into the register: off the locomotive or from outside; its tag, its place, its description."""

from core.web.rooms import SHED, NavLink, Room

ROOM = Room(
    urls="parts.entering.urls",
    nav=(NavLink("strip", "i-add", "A piece comes off", SHED, 10, may="strip"),),
)
