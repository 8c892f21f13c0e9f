"""Instruments and their calibrations."""

from core.web.rooms import SHED, Protected, Room, Way

ROOM = Room(
    urls="inspections.instruments.urls",
    ways=(Way("instruments", "i-edit", "Instruments and their calibrations", SHED, 30),),
    protected=(Protected("inspections_calibration", "A calibration is never changed; the next one follows it."),),
)
