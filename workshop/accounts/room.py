"""Signing in, people and their roles, invitations, shared tablets."""

from core.web.rooms import WORKS, YOU, Room, Way

ROOM = Room(
    urls="workshop.accounts.urls",
    ways=(
        Way("people", "i-person", "People and their roles", WORKS, 70, may="edit people"),
        Way("invitations", "i-add", "Invitations", WORKS, 80, may="invite"),
        Way("tablets", "i-scan", "Shared tablets", WORKS, 90, may="share device"),
        Way("me", "i-person", "Your roles, password, PIN and devices", YOU, 10),
    ),
)
