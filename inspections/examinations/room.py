"""What waits to be examined, the plain form of an examination, and the page of a record."""

from core.web.rooms import SHED, Room, Way

ROOM = Room(
    urls="inspections.examinations.urls",
    ways=(Way("examinations", "i-edit", "What waits to be examined", SHED, 20),),
)
