"""Pairs that run or press together."""

from core.web.rooms import LOCOMOTIVE, Room, Way

ROOM = Room(
    urls="inspections.fits.urls",
    ways=(Way("locomotive_fits", "i-place", "Fits: what runs or presses together", LOCOMOTIVE, 40),),
)
