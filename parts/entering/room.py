"""How a piece comes into the register: off the locomotive or from outside; its tag, its place, its description."""

from core.web.rooms import SHED, Room, Way

ROOM = Room(
    urls="parts.entering.urls",
    ways=(Way("strip", "i-add", "A piece comes off", SHED, 10, may="strip"),),
)
