"""Hold points and their releases, and work that anybody stops at once."""

from core.web.rooms import LOCOMOTIVE, NavLink, NeedPage, Protected, Room
from parts.domain.words import Need

ROOM = Room(
    urls="parts.holds.urls",
    nav=(NavLink("holds", "i-warn", "Hold points", LOCOMOTIVE, 50),),
    protected=(Protected("parts_holdrelease", "A release is never changed; when it lapses, have another."),),
    needs=(
        NeedPage(Need.RELEASE, "Ask for it, or release it", "/holds/{target}/", may="hold"),
        NeedPage(Need.RELEASE, "See the hold point", "/holds/{target}/"),
    ),
)
