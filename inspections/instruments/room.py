"""Instruments and their calibrations."""

from core.web.rooms import SHED, Room, Way

ROOM = Room(
    urls="inspections.instruments.urls",
    ways=(Way("instruments", "i-edit", "Instruments and their calibrations", SHED, 30),),
)
