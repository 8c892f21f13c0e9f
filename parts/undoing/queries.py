"""What somebody did in the last ten minutes and may undo, the latest first."""

from dataclasses import dataclass

from django.utils import timezone

from core.domain.catalogue import ACT
from core.models import Event, EventSubject, Person
from parts.actions.perform import undoable_acts
from parts.actions.undo import CORRECT, UNDO, in_words
from parts.domain.plain import capital, listed
from parts.domain.undoing import FOR
from parts.models import Component, Consumable, Location, Pattern

MODELS = {"piece": Component, "consumable": Consumable, "location": Location, "pattern": Pattern}
NAMED = 3
EARLIER = 8


@dataclass(frozen=True)
class Act:
    """One thing done: the number of its first event, what it was, and to what."""

    number: int
    did: str
    to: str
    at: str


def latest(person: Person) -> list[Act]:
    since = timezone.now() - FOR
    events = list(Event.objects.filter(actor=person, at__gte=since).order_by("pk").prefetch_related("subjects"))
    undone = {event.data["undone"] for event in events if event.action in (UNDO.word, CORRECT.word)}
    names = _names(events)
    found = []
    for number in reversed(undoable_acts(events)):
        of_it = [event for event in events if number in (event.pk, event.data.get(ACT))]
        if number in undone or of_it[0].pk != number:
            continue
        things = list(dict.fromkeys(name for event in of_it for name in names[event.pk]))
        more = f" and {len(things) - NAMED} more" if len(things) > NAMED else ""
        at = timezone.localtime(of_it[0].at)
        found.append(Act(number, in_words(of_it[0]), listed(things[:NAMED]) + more, f"{at:%H:%M}"))
    return found


def earlier(person: Person) -> list[Component]:
    """The pieces that somebody last did something to before that, with their codes: there it is corrected."""
    late = timezone.now() - FOR
    about = EventSubject.objects.filter(kind="piece", event__actor=person, event__at__lt=late).order_by("-event_id")
    numbers = list(dict.fromkeys(about.values_list("number", flat=True)[: 10 * EARLIER]))[:EARLIER]
    known = Component.objects.filter(pk__in=numbers).with_codes().in_bulk()
    return [known[number] for number in numbers if number in known and known[number].code]


def _names(events: list[Event]) -> dict[int, list[str]]:
    """By event, the names of what it is about."""
    about = [(event.pk, subject.kind, subject.number) for event in events for subject in event.subjects.all()]
    rows = {
        kind: model._base_manager.in_bulk({number for _, of, number in about if of == kind})
        for kind, model in MODELS.items()
        if any(of == kind for _, of, _ in about)
    }
    found: dict[int, list[str]] = {event.pk: [] for event in events}
    for event, kind, number in about:
        if thing := rows.get(kind, {}).get(number):
            found[event].append(capital(str(thing)))
    return found
