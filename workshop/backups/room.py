"""Backups: those made by night, and the copy away from the building that somebody has to carry."""

from core.web.rooms import WORKS, Room, Way

ROOM = Room(
    urls="workshop.backups.urls",
    ways=(Way("backups", "i-crate", "Backups", WORKS, 95, may="look after backups"),),
)
