"""A wrong name on what was done: the event stays as it is, and another says whose it was."""

from django.utils import timezone

from core.domain.catalogue import CATALOGUE
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from parts.actions import writing
from parts.domain.plain import day, says_enough
from parts.domain.states import PieceAction


def correct_name(event: Event, person: Person, actor: Person, *, reason: str) -> Event:
    """From now on the work counts as that person's too: whoever accepts the piece did not do it."""
    writing.allow(actor, "correct name")
    kind = CATALOGUE.event(event.action)
    if kind.signed or event.checker_id:
        raise Refused(Refusal("event", "It was signed, and stays as signed.", "Supersede it, or send the piece back."))
    if person.pk == event.actor_id:
        raise Refused(Refusal("person", f"It is under {person} already.", "Choose who did it."))
    if not says_enough(reason):
        raise Refused(Refusal("reason", "Reason: say in a few words how the wrong name came there.", ""))
    work = any(a.word == event.action and isinstance(a, PieceAction) and a.is_work for a in CATALOGUE)
    data = {
        "event": event.pk, "word": event.action, "day": day(timezone.localdate(event.at)), "was": str(event.actor),
        "name": str(person), "person": person.pk, "work": work,
    }  # fmt: skip
    about = [(subject.kind, subject.number) for subject in event.subjects.all()]
    with writing.one_transaction():
        entry = writing.Entry(word="correct name", about=about, remark=" ".join(reason.split()), data=data)
        return writing.write(actor, [entry])[0]
