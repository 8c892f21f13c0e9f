"""The register of drawings, where two of them differ, and papers."""

from core.web.rooms import WORKS, Room, Way

ROOM = Room(
    urls="parts.drawings.urls",
    ways=(Way("drawings", "i-place", "Drawings", WORKS, 20),),
)
