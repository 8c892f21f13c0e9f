"""Patterns and castings, how much metals contract, and what a pattern must measure."""

from core.web.rooms import STORES, NavLink, Protected, Room

from .found import FOUND

ROOM = Room(
    urls="parts.foundry.urls",
    nav=(NavLink("patterns", "i-crate", "Patterns, core boxes and jigs", STORES, 20),),
    protected=(
        Protected("parts_contraction", "A figure is never changed; put a better one in its place."),
        Protected("parts_density", "A figure is never changed; put a better one in its place."),
        Protected("parts_struckout", "A figure that was struck out stays so; enter it again."),
    ),
    found=FOUND,
)
