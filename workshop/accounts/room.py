"""Signing in, people and their roles, invitations, shared tablets."""

from core.web.rooms import WORKS, YOU, NavLink, Room

ROOM = Room(
    urls="workshop.accounts.urls",
    nav=(
        NavLink("people", "i-person", "People and their roles", WORKS, 70, may="edit people"),
        NavLink("invitations", "i-add", "Invitations", WORKS, 80, may="invite"),
        NavLink("tablets", "i-scan", "Shared tablets", WORKS, 90, may="share device"),
        NavLink("me", "i-person", "Your roles, password, PIN and devices", YOU, 10),
    ),
)
