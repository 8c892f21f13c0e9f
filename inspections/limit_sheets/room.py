"""Published limits and a railway's own, and giving them to places."""

from core.web.rooms import WORKS, NavLink, Protected, Room

ROOM = Room(
    urls="inspections.limit_sheets.urls",
    nav=(NavLink("limit_sheets", "i-info", "Limit sheets", WORKS, 10),),
    protected=(
        Protected("inspections_limitsheet", "A limit sheet is never changed; add an edition."),
        Protected("inspections_sheetrow", "A limit sheet is never changed; add an edition."),
    ),
)
