"""What can be found of pieces: by their words, and the words of their place and of where they lie."""

from django.db.models import QuerySet
from django.urls import reverse

from core.models.prepared import Scope, prepared
from core.web.found import FoundKind, FoundRow, Words

from ..common.found import HANDS, last_in_hand
from ..domain.plain import capital
from ..domain.words import State
from ..models import Component, Tag
from ..queries.needs_today import needs_today


def of_pieces(ids) -> dict[int, Words]:
    codes = Tag.objects.codes_by("component", ids)
    found = {}
    for row in _said({"pk__in": list(ids)}):
        pk, name, state, marks, works, cast, side, path, engine, *place = row
        around = [HANDS.get(side, ""), side, path, engine, *place, HANDS.get(place[1], "")]
        own = [marks, works, cast]
        found[pk] = Words(name=name, own=own, around=around, codes=codes[pk], past=state == "withdrawn")
    return found


@prepared
def _said(scope: dict) -> QuerySet:
    columns = (
        "pk", "name", "state", "marks", "works_number", "cast_number", "side", "location__path", "locomotive__name",
        *(f"place__{part}" for part in ("name", "side", "axle", "end", "inside", "drawing", "subassembly__name")),
    )  # fmt: skip
    return Component.objects.filter(**scope).order_by().values_list(*columns)


def piece_rows(pieces: list[Component], today) -> dict[int, FoundRow]:
    needs = needs_today([piece.place for piece in pieces if piece.place], today)
    looked = last_in_hand([piece.pk for piece in pieces])
    return {
        piece.pk: FoundRow(
            thing=piece.pk,
            title=_called(piece),
            href=reverse("tag", args=[piece.code]) if piece.code else "",
            about=" · ".join(filter(None, [_meant_for(piece), lies(piece)])),
            code=piece.code or "",
            state=piece.state,
            need=needs.get(piece.place_id or 0, "") if piece.state != State.WITHDRAWN else "",
            looked=looked.get(piece.pk),
        )
        for piece in pieces
    }


def _called(piece: Component) -> str:
    return capital(piece.called) + (f" × {piece.quantity}" if piece.quantity > 1 else "")


def _meant_for(piece: Component) -> str:
    if piece.place is None:
        return "for no place yet"
    return "" if piece.place.name == piece.name else f"for {piece.place.words}"


def lies(piece: Component) -> str:
    """Where it lies, in a few words; its own page says more."""
    if piece.state == State.WITHDRAWN and piece.location is None:
        return piece.destination
    if piece.fitted and piece.fitted.part_of:
        return f"fitted in the {piece.fitted.part_of.words}"
    if piece.fitted_id:
        return piece.location.path if piece.location else "in its place"
    if piece.missed_on and piece.location:
        return f"missed; last known: {piece.location.path}"
    return piece.location.path if piece.location else "nobody has recorded where"


def _pieces(ids, today):
    return piece_rows(_as_found({"pk__in": list(ids)}), today)


@prepared
def _as_found(scope: Scope) -> QuerySet[Component]:
    return Component.objects.filter(**scope).as_found()


FOUND = (
    FoundKind(
        kind="piece",
        model=Component,
        heading="Pieces",
        words=of_pieces,
        rows=_pieces,
        says={
            "location": "location",
            "place": "place",
            "subassembly": "place__subassembly",
            "locomotive": "locomotive",
        },
        rank=1,
    ),
)
