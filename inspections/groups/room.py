"""Ordinary pieces looked at and accepted in a group, with one signature that names each."""

from core.web.rooms import WORKS, NavLink, Room

ROOM = Room(
    urls="inspections.groups.urls",
    nav=(NavLink("group_people", "i-person", "Who accepts in groups", WORKS, 75, may="authorise for groups"),),
)
