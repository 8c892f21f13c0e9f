"""A release that may lapse does so when what lies behind it is taken off or reworked."""

from core.models import Event
from parts.actions.change import Task

from .lapsing import counts_again, lapse_behind


def lapse(task: Task, event: Event) -> list[int]:
    lapse_behind(task.piece, task.old_place or task.piece.place, event)
    return []


REACTIONS = (("", lapse),)
UNDOES = {"release lapsed": counts_again}
