"""Decisions, repairs, renewals with their steps and routes, and the firms that do them."""

from core.web.rooms import LOCOMOTIVE, WORKS, Room, Way

ROOM = Room(
    urls="parts.work.urls",
    ways=(
        Way("renewals", "i-add", "Renewals", LOCOMOTIVE, 30),
        Way("firms", "i-person", "Firms", WORKS, 30),
        Way("routes", "i-next", "Routes to a new piece", WORKS, 40),
    ),
)
