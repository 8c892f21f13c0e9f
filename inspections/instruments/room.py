"""Instruments and their calibrations."""

from core.web.rooms import SHED, NavLink, Protected, Room

ROOM = Room(
    urls="inspections.instruments.urls",
    nav=(NavLink("instruments", "i-edit", "Instruments and their calibrations", SHED, 30),),
    protected=(Protected("inspections_calibration", "A calibration is never changed; the next one follows it."),),
)
