"""Backups: those made by night, and the copy away from the building that somebody has to carry."""

from core.web.rooms import WORKS, NavLink, Room

ROOM = Room(
    urls="workshop.backups.urls",
    nav=(NavLink("backups", "i-crate", "Backups", WORKS, 95, may="look after backups"),),
)
