"""What it costs, and the ledger of how original a locomotive is."""

from core.web.rooms import LOCOMOTIVE, NavLink, PrintedPaper, Room

ROOM = Room(
    urls="parts.money.urls",
    nav=(
        NavLink("ledger", "i-info", "How original it is, and where the old ones went", LOCOMOTIVE, 70),
        NavLink("money", "i-info", "Money: estimated, ordered, paid", LOCOMOTIVE, 80, may="read money"),
    ),
    papers=(PrintedPaper("ledger_pdf", "How original it is, and where the old ones went", "locomotive"),),
)
