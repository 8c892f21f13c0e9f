"""What an action on a piece means for its repairs and its renewal."""

from collections.abc import Iterable

from core.domain.refusals import Refusal, Refused
from core.log.writing import today
from core.models import Event
from parts.actions.change import Task
from parts.domain.job_words import Ending

from .writers.put_back import nothing_more, promised_as_before
from .writers.renewals import locked, settle


def close_repair(task: Task, event: Event) -> Iterable[int]:
    """The repair that was open is done; of several, the one that was named."""
    left = list(task.piece.repairs.under_way().select_for_update())
    done = [repair for repair in left if repair.pk == task.given.repair] if task.given.repair else left
    if len(done) > 1:
        named = "; ".join(repair.what for repair in done[:3])
        raise Refused(Refusal("repair", f"Several repairs are open: {named}.", "Finish each on its own page."))
    for repair in done:
        repair.done, repair.done_event = repair.done or today(), event
        _end(repair, Ending.DONE, event)
    return ()


def give_up_repairs(task: Task, event: Event) -> Iterable[int]:
    for repair in task.piece.repairs.under_way().select_for_update():
        _end(repair, Ending.GIVEN_UP, event, "the piece was withdrawn")
    return ()


def _end(repair, how: Ending, event: Event, why: str = "") -> None:
    repair.ended, repair.ended_on, repair.why_ended = how.value, today(), why
    repair.last_event = event.pk
    repair.save()


def settle_renewal(task: Task, event: Event) -> Iterable[int]:
    """Its route may close now: nothing of it is open, and what came of it is passed."""
    if task.piece.renewal:
        settle(locked(task.piece.renewal), event.actor)
    return ()


REACTIONS = (
    ("finish repair", close_repair),
    ("withdraw", give_up_repairs),
    ("pass", settle_renewal),
)
UNDOES = {"call firm": nothing_more, "promise": promised_as_before}
