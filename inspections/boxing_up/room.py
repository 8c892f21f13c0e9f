"""Putting a subassembly together step by step, and the signed record before its inside can no longer be seen."""

from core.web.rooms import PrintedPaper, Protected, Room

CLOSED = "A record of boxing up is never changed; box up again."
ROOM = Room(
    urls="inspections.boxing_up.urls",
    protected=(
        Protected("inspections_boxingup", CLOSED),
        Protected("inspections_boxingup_photos", CLOSED),
        Protected("inspections_boxedpiece", CLOSED),
    ),
    papers=(PrintedPaper("boxing_up_pdf", "The record of boxing up", "subassembly"),),
)
