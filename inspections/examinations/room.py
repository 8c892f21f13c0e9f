"""What waits to be examined, the plain form of an examination, and the page of a record."""

from core.web.rooms import SHED, PrintedPaper, Room, Way

ROOM = Room(
    urls="inspections.examinations.urls",
    ways=(Way("examinations", "i-edit", "What waits to be examined", SHED, 20),),
    papers=(PrintedPaper("examination_sheet_pdf", "What waits to be examined, with codes to scan"),),
)
