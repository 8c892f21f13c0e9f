"""What a successor must match, read on a condemned piece."""

from core.web.rooms import Protected, Room

ROOM = Room(
    urls="inspections.reproducing.urls",
    protected=(Protected("inspections_takensize", "A size that was taken is never changed; take it again."),),
)
