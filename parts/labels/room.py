"""Tags and crate labels: laid out, drawn and printed."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(
    urls="parts.labels.urls",
    ways=(Way("labels", "i-print", "Print tags and crate labels", STORES, 40, may="print labels"),),
)
