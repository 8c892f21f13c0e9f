"""Editions of limits."""

from core.web.rooms import Protected, Room

ROOM = Room(
    protected=(Protected("inspections_limits", "Limits are never changed; add an edition."),),
)
