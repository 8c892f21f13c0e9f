"""The register of drawings, where two of them differ, and papers."""

from core.web.rooms import WORKS, NavLink, Protected, Room

from .found import FOUND

ROOM = Room(
    urls="parts.drawings.urls",
    nav=(NavLink("drawings", "i-place", "Drawings", WORKS, 20),),
    protected=(
        Protected("parts_paper", "A paper is never changed; add the new one beside it."),
        Protected(
            "parts_conflict", "A settled conflict is never changed; note another conflict.", when="OLD.settled <> ''"
        ),
        Protected("parts_conflictside", "What a drawing says is never changed; note another conflict."),
    ),
    found=FOUND,
)
