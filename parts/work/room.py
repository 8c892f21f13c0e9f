"""Decisions, repairs, renewals with their steps and routes, and the firms that do them."""

from core.web.rooms import LOCOMOTIVE, WORKS, NavLink, NeedPage, Protected, Room
from parts.domain.words import Need

from .found import FOUND

ROOM = Room(
    urls="parts.work.urls",
    nav=(
        NavLink("renewals", "i-add", "Renewals", LOCOMOTIVE, 30),
        NavLink("firms", "i-person", "Firms", WORKS, 30),
        NavLink("routes", "i-next", "Routes to a new piece", WORKS, 40),
    ),
    protected=(
        Protected("parts_decision", "A decision is never changed; decide again."),
        Protected("parts_decision_examined", "A decision is never changed; decide again."),
        Protected("parts_decision_photos", "A decision is never changed; decide again."),
        Protected("parts_option", "An option that was weighed is never changed; decide again."),
        Protected("parts_promise", "A promise is never changed; note the new day beside it."),
    ),
    found=FOUND,
    needs=(
        NeedPage(Need.DECIDE, "Decide on it", "/t/{tag}/decide", may="decide on"),
        NeedPage(Need.REPAIR, "Go on with the repair", "/repairs/{target}/"),
        NeedPage(Need.REPAIR, "Begin the repair", "/t/{tag}/repair", may="repair"),
        NeedPage(Need.SOURCE, "Begin a renewal", "/p/{place}/renew", may="renew"),
        NeedPage(Need.AWAIT, "Go on with the renewal", "/renewals/{target}/"),
    ),
)
