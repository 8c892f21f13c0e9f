"""Records as words and as PDF."""

from core.web.rooms import PrintedPaper, Room

ROOM = Room(
    urls="inspections.reports.urls",
    papers=(
        PrintedPaper("report", "The record of an examination", "record"),
        PrintedPaper("piece_records", "All records of a piece", "piece"),
        PrintedPaper("subassembly_records", "All records of a subassembly, for the surveyor", "subassembly"),
    ),
)
