"""Locomotives, their subassemblies and places, overhauls, and what is known of an empty place."""

from core.web.rooms import LOCOMOTIVE, WORKS, Protected, Room, Way

from .found import FOUND

ROOM = Room(
    urls="parts.structure.urls",
    ways=(
        Way("structure", "i-place", "Structure: subassemblies and places", LOCOMOTIVE, 20),
        Way("overhauls", "i-next", "Overhauls", LOCOMOTIVE, 60),
        Way("new_locomotive", "i-locomotive", "A new locomotive", WORKS, 60, may="edit structure"),
    ),
    protected=(
        Protected("parts_evidence", "Evidence is never changed; write down what else is known."),
        Protected("parts_evidence_photos", "Evidence is never changed; write down what else is known."),
    ),
    found=FOUND,
)
