"""Ordinary pieces looked at and accepted in a group, with one signature that names each."""

from core.web.rooms import WORKS, Room, Way

ROOM = Room(
    urls="inspections.groups.urls",
    ways=(Way("group_people", "i-person", "Who accepts in groups", WORKS, 75, may="authorise for groups"),),
)
