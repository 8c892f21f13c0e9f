"""An import undone whole, while nothing was done to what it added: every row of it is struck."""

from django.db.models import QuerySet

from core.domain.refusals import Refusal, Refused
from core.models import Event, EventSubject, Person
from parts.actions import writing
from parts.domain.plain import listed, says_enough, several
from parts.mistakes.sorts import SOME, SORTS, Rows, by_some, hanging
from parts.mistakes.writers import free_tags, set_struck, settle
from parts.models import Component, Locomotive, Position

LEAVES_ALONE = ("print labels", "strike out", "undo import")


def imports_of(locomotive: Locomotive) -> QuerySet[Event]:
    """Those that brought something in, the latest first."""
    return Event.objects.about("locomotive", locomotive.pk).filter(action="import list").order_by("-id")


def undone_of(locomotive: Locomotive) -> set[int]:
    """The numbers of those that were undone."""
    undone = Event.objects.about("locomotive", locomotive.pk).filter(action="undo import")
    return {event.data["import list"] for event in undone}


def is_undone(event: Event) -> bool:
    return Event.objects.filter(**{"action": "undo import", "data__import list": event.pk}).exists()


def undo_import(event: Event, actor: Person, *, reason: str) -> None:
    """Raises Refused while anything was done to one of its rows, naming what."""
    writing.allow(actor, "import")
    if not says_enough(reason):
        raise Refused(Refusal("reason", "Reason: say in a few words what the mistake was.", ""))
    with writing.one_transaction():
        event = Event.objects.select_for_update().get(pk=event.pk)
        rows = still_there(event)
        if found := against(event, rows):
            raise Refused(*found)
        settled = _places_left(rows) | set(event.data["emptied"])
        about = [
            *event.subjects.values_list("kind", "number"),
            *((sort, pk) for sort, pks in rows.items() for pk in pks),
        ]
        data = {"import list": event.pk, "source": event.data["source"]}
        writing.write(
            actor, [writing.Entry(word="undo import", about=about, remark=" ".join(reason.split()), data=data)]
        )
        free_tags(rows)
        set_struck(rows)
        emptied = Position.objects.filter(pk__in=event.data["emptied"])
        emptied.update(known_empty_on=None, known_empty_by=None, evidence="")
        Component.objects.filter(pk__in=event.data["opened"]).update(broken_down=False)
        settle(rows, sorted(settled))


def still_there(event: Event) -> Rows:
    """What it added and nobody has struck."""
    return {
        sort: {
            pk
            for some in by_some(pks)
            for pk in SORTS[sort].model._default_manager.filter(pk__in=some).values_list("pk", flat=True)
        }
        for sort, pks in event.data["rows"].items()
    }


def against(event: Event, rows: Rows) -> list[Refusal]:
    """Why it cannot be undone whole."""
    if is_undone(event) or not any(rows.values()):
        return [Refusal("undone", "This import is undone already.", "Look at the page again.")]
    changed = {"place": set(event.data["emptied"]), "piece": set(event.data["opened"])}
    later = _done_since(event, {sort: rows.get(sort, set()) | changed.get(sort, set()) for sort in {*rows, *changed}})
    cure = "Strike what is wrong one by one, on its own page."
    if later:
        first = later[0]
        count = several(len(later), "thing was", "things were")
        what = f"the first: {first.actor} recorded “{first.action}”"
        return [Refusal("followed", f"{count} done since to what it added, {what}.", cure)]
    if hangs := hanging(rows):
        return [Refusal("hangs", f"What it added has {listed(hangs)}.", cure)]
    return []


def _done_since(event: Event, rows: Rows) -> list[Event]:
    numbers: set[int] = set()
    for sort, pks in rows.items():
        for some in by_some(pks):
            found = EventSubject.objects.filter(kind=sort, number__in=some, event__gt=event.pk)
            numbers.update(found.exclude(event__action__in=LEAVES_ALONE).values_list("event", flat=True))
    return list(Event.objects.filter(pk__in=sorted(numbers)[:SOME]).select_related("actor").order_by("id"))


def _places_left(rows: Rows) -> set[int]:
    """Places that were there before and that its pieces were for, or that its places are inside of."""
    found: set[int | None] = set()
    for some in by_some(rows.get("piece", ())):
        for names in Component.objects.filter(pk__in=some).values_list("place", "came_off"):
            found.update(names)
    for some in by_some(rows.get("place", ())):
        found.update(Position.objects.filter(pk__in=some).values_list("part_of", flat=True))
    return {pk for pk in found if pk} - rows.get("place", set())
