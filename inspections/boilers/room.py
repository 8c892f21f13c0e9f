"""A boiler as a vessel with a file: what it is made of, its written scheme, and all that is written of it."""

from core.web.rooms import SHED, NavLink, Protected, Room

from .found import FOUND

ROOM = Room(
    urls="inspections.boilers.urls",
    nav=(NavLink("boilers", "i-edit", "Boilers and their files", SHED, 40),),
    found=FOUND,
    protected=(Protected("inspections_boilerentry", "An entry of a boiler file is never changed."),),
)
