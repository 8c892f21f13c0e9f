"""The record of an examination, signed and frozen."""

from core.web.rooms import Protected, Room

ROOM = Room(
    protected=(
        Protected(
            "inspections_examination",
            "A signed record is never changed; supersede it by a new one.",
            when="OLD.signed_at IS NOT NULL",
        ),
        Protected("inspections_measurement", "A measurement is never changed; measure again."),
        Protected("inspections_reading", "A reading is never changed; measure again."),
        Protected("inspections_crackcheck", "A signed record is never changed; supersede it by a new one."),
        Protected("inspections_indication", "A signed record is never changed; supersede it by a new one."),
    ),
)
