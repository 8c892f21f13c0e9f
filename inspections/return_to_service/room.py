"""What the competent person asked for before a return to service, by what each is shown, and the signed list."""

from core.web.rooms import LOCOMOTIVE, NavLink, PrintedPaper, Protected, Room

ROOM = Room(
    urls="inspections.return_to_service.urls",
    nav=(NavLink("return_to_service", "i-good", "Return to service", LOCOMOTIVE, 80),),
    protected=(
        Protected("inspections_tick", "A tick is never changed; take it back."),
        Protected("inspections_returntoservice", "A signed list is never changed; sign another."),
    ),
    papers=(
        PrintedPaper("return_list_pdf", "The list for the return to service", "locomotive"),
        PrintedPaper("signed_return_pdf", "A signed list for the return to service", "signed list"),
    ),
)
