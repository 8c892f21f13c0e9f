"""Where things lie, and moving them."""

from core.web.rooms import STORES, Room, Way

ROOM = Room(
    urls="parts.stores.urls",
    ways=(Way("locations", "i-crate", "Where things lie", STORES, 10),),
)
