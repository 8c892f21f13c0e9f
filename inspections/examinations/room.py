"""What waits to be examined, the plain form of an examination, and the page of a record."""

from core.web.rooms import SHED, NavLink, PrintedPaper, Room

ROOM = Room(
    urls="inspections.examinations.urls",
    nav=(NavLink("examinations", "i-edit", "What waits to be examined", SHED, 20),),
    papers=(PrintedPaper("examination_sheet_pdf", "What waits to be examined, with codes to scan"),),
)
