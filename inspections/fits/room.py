"""Pairs that run or press together."""

from core.web.rooms import LOCOMOTIVE, NavLink, NeedPage, Protected, Room
from parts.domain.words import Need

ROOM = Room(
    urls="inspections.fits.urls",
    nav=(NavLink("locomotive_fits", "i-place", "Fits: what runs or presses together", LOCOMOTIVE, 40),),
    protected=(Protected("inspections_fitlimits", "Limits are never changed; add an edition."),),
    needs=(NeedPage(Need.FIT, "See what to make", "/fits/{target}/"),),
)
