"""Published limits and a railway's own, and giving them to places."""

from core.web.rooms import WORKS, Room, Way

ROOM = Room(
    urls="inspections.limit_sheets.urls",
    ways=(Way("limit_sheets", "i-info", "Limit sheets", WORKS, 10),),
)
