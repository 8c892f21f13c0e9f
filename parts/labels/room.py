"""Tags and crate labels: laid out, drawn and printed."""

from core.web.rooms import STORES, NavLink, Room

ROOM = Room(
    urls="parts.labels.urls",
    nav=(NavLink("labels", "i-print", "Print tags and crate labels", STORES, 40, may="print labels"),),
)
