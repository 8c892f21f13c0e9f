"""What is decided of what an examination showed."""

from core.web.rooms import Protected, Room

ROOM = Room(
    urls="inspections.findings.urls",
    protected=(Protected("inspections_findingdecision", "A decision is never changed; decide again."),),
)
