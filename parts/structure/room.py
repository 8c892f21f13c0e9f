"""Locomotives, their subassemblies and places, overhauls, and what is known of an empty place."""

from core.web.rooms import LOCOMOTIVE, WORKS, NavLink, Protected, Room

from .found import FOUND

ROOM = Room(
    urls="parts.structure.urls",
    nav=(
        NavLink("structure", "i-place", "Structure: subassemblies and places", LOCOMOTIVE, 20),
        NavLink("overhauls", "i-next", "Overhauls", LOCOMOTIVE, 60),
        NavLink("new_locomotive", "i-locomotive", "A new locomotive", WORKS, 60, may="edit structure"),
    ),
    protected=(
        Protected("parts_evidence", "Evidence is never changed; add what else is known."),
        Protected("parts_evidence_photos", "Evidence is never changed; add what else is known."),
    ),
    found=FOUND,
)
