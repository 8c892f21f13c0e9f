"""Taking over a list that somebody kept before."""

from core.web.rooms import LOCOMOTIVE, NavLink, Room

ROOM = Room(
    urls="parts.taking_over.urls",
    nav=(NavLink("import_register", "i-add", "Take over a list", LOCOMOTIVE, 90, may="import"),),
)
