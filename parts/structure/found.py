"""What can be found of locomotives, their subassemblies and their places."""

from django.db.models import QuerySet

from core.models.prepared import Scope, prepared
from core.web.found import FoundKind, FoundRow, Words

from ..common.found import HANDS
from ..domain.plain import capital
from ..models import Locomotive, Position, Subassembly
from ..queries.needs_today import needs_today


def of_places(ids) -> dict[int, Words]:
    found = {}
    for pk, name, drawing, side, *around in _said_of_places({"pk__in": list(ids)}):
        found[pk] = Words(name=name, own=[drawing], around=[side, HANDS.get(side, ""), *around])
    return found


@prepared
def _said_of_places(scope: Scope) -> QuerySet:
    columns = (
        "pk", "name", "drawing", "side", "axle", "end", "inside", "subassembly__name", "locomotive__name"
    )  # fmt: skip
    return Position.objects.in_use().filter(**scope).values_list(*columns)


def _places(ids, today):
    places = list(Position.objects.filter(pk__in=ids).select_related("subassembly", "locomotive"))
    needs = needs_today(places, today)
    return {
        place.pk: FoundRow(
            thing=place.pk,
            title=capital(place.words),
            href=place.get_absolute_url(),
            about=" · ".join(filter(None, [place.locomotive.name, place.subassembly.name, place.drawing])),
            need=needs.get(place.pk, ""),
        )
        for place in places
    }


def of_subassemblies(ids) -> dict[int, Words]:
    found = Subassembly.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "code", "locomotive__name")
    return {pk: Words(name=name, own=[code], around=[engine]) for pk, name, code, engine in found}


def _subassemblies(ids, today):
    found = Subassembly.objects.filter(pk__in=ids).select_related("locomotive", "parent")
    return {
        sub.pk: FoundRow(
            thing=sub.pk,
            title=capital(sub.name),
            href=sub.get_absolute_url(),
            about=" · ".join([sub.locomotive.name, *([f"part of {sub.parent.name}"] if sub.parent else [])]),
        )
        for sub in found
    }


def of_locomotives(ids) -> dict[int, Words]:
    rows = Locomotive.objects.filter(pk__in=ids).order_by("pk").values_list("pk", "name", "slug")
    return {pk: Words(name=name, own=[slug]) for pk, name, slug in rows}


def _locomotives(ids, today):
    found = Locomotive.objects.in_bulk(ids).values()
    return {each.pk: FoundRow(thing=each.pk, title=each.name, href=each.get_absolute_url()) for each in found}


FOUND = (
    FoundKind(
        kind="place",
        model=Position,
        heading="Places without a piece",
        words=of_places,
        rows=_places,
        says={"subassembly": "subassembly", "locomotive": "locomotive"},
        rank=3,
    ),
    FoundKind(
        kind="subassembly",
        model=Subassembly,
        heading="Subassemblies",
        words=of_subassemblies,
        rows=_subassemblies,
        says={"locomotive": "locomotive"},
        rank=5,
    ),
    FoundKind(
        kind="locomotive",
        model=Locomotive,
        heading="Locomotives",
        words=of_locomotives,
        rows=_locomotives,
        rank=7,
    ),
)
