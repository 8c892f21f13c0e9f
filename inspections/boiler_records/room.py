"""Surveys, stay maps, calculations and tests of a boiler: typed, signed, checked, printed."""

from core.web.rooms import PrintedPaper, Protected, Room

ROOM = Room(
    urls="inspections.boiler_records.urls",
    protected=(
        Protected(
            "inspections_boilerrecord",
            "A signed record of a boiler is never changed; a later one takes its place.",
            when="OLD.signed_at IS NOT NULL",
        ),
        Protected("inspections_boilerrecordnote", "A check or an acceptance is never changed."),
    ),
    papers=(
        PrintedPaper("boiler_record_pdf", "A survey, stay map, calculation or test of a boiler", "boiler record"),
        PrintedPaper("boiler_file_pdf", "The file of a boiler", "boiler"),
    ),
)
