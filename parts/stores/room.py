"""Where things lie, and moving them."""

from core.web.rooms import STORES, NavLink, Protected, Room

from .found import FOUND

ROOM = Room(
    urls="parts.stores.urls",
    nav=(NavLink("locations", "i-crate", "Where things lie", STORES, 10),),
    protected=(Protected("parts_movement", "A movement is never changed; move the piece again."),),
    found=FOUND,
)
