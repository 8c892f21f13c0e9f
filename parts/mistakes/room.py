"""What was entered by mistake: struck with a reason, out of every count and list, and put back if that was wrong."""

from core.web.rooms import WORKS, NavLink, Room

ROOM = Room(urls="parts.mistakes.urls", nav=(NavLink("mistakes", "i-left", "Entered by mistake", WORKS, 80),))
