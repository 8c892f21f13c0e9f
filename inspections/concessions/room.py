"""What is allowed beyond a limit."""

from core.web.rooms import Protected, Room

ROOM = Room(
    urls="inspections.concessions.urls",
    protected=(Protected("inspections_concession", "A concession is never changed."),),
)
