"""Which records go together in one file: everything behind one piece, or behind one subassembly and its parts."""

from collections import defaultdict
from datetime import datetime

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from parts.domain.plain import capital, day, listed, several
from parts.models import Component, Position, Subassembly

from ..models import Examination
from .bundle import BundlePart, bundle, counted
from .signed_words import sheets_of

MOST = 400
"""Records in one file: some two minutes of printing, and more than anybody reads in one sitting."""


def of_piece(piece: Component, code: str, now: datetime) -> bytes:
    """Every signed record of a piece, those that were superseded too."""
    records = list(Examination.objects.of_pieces([piece]))
    _not_too_many(len(records))
    named = f"{capital(piece.name)} {code}".strip()
    group = BundlePart(heading=named, sheets=sheets_of(records), none_because="No record of it is signed.")
    about = [
        f"{counted([group])} of this piece, oldest first; records that were superseded are among them and say so.",
        _made(now),
    ]
    return bundle(f"Records of {named}", about, [group])


def of_subassembly(subassembly: Subassembly, now: datetime) -> bytes:
    """The signed records that stand of the pieces in its places and in those of its parts, place by place."""
    places = _places(subassembly)
    pieces = list(Component.objects.live_in([place.pk for place in places]).with_codes())
    records = list(Examination.objects.of_pieces(pieces).not_superseded())
    _not_too_many(len(records))
    sheets = defaultdict(list)
    for sheet in sheets_of(records):
        sheets[sheet.record.component_id].append(sheet)
    of_place = {place.pk: place for place in places}
    turn = {pk: number for number, pk in enumerate(of_place)}
    pieces.sort(key=lambda piece: (turn[piece.place_id], piece.pk))
    groups = [
        BundlePart(heading=_heading(of_place[piece.place_id], piece), sheets=sheets[piece.pk])
        for piece in pieces
        if sheets[piece.pk]
    ]
    bare = [piece for piece in pieces if not sheets[piece.pk]]
    if bare:
        named = listed(f"{capital(piece.name)} {piece.code or ''}".strip() for piece in bare)
        groups.append(BundlePart(heading=f"{several(len(bare), 'piece')} without a signed record", none_because=named))
    filled = {piece.place_id for piece in pieces}
    empty = [capital(place.words) for place in places if place.pk not in filled]
    if empty:
        groups.append(BundlePart(heading=f"{several(len(empty), 'place')} with no piece", none_because=listed(empty)))
    about = [
        f"{counted(groups)} of the pieces that are in its places now or lie ready for them, its parts included. "
        "Records that were superseded are in the file of each piece.",
        _made(now),
    ]
    return bundle(f"Records of {subassembly.name}, {subassembly.locomotive}", about, groups)


def _places(subassembly: Subassembly) -> list[Position]:
    """Its own places and those of its parts, its own first."""
    below: dict[int | None, list[Subassembly]] = defaultdict(list)
    order: dict[int, int] = {}
    for one in Subassembly.objects.in_use().filter(locomotive=subassembly.locomotive_id):
        below[one.parent_id].append(one)
    waiting = [subassembly]
    while waiting:
        one = waiting.pop(0)
        order[one.pk] = len(order)
        waiting = below[one.pk] + waiting
    found = Position.objects.in_use().filter(subassembly__in=order).select_related("subassembly").in_words_order()
    return sorted(found, key=lambda place: order[place.subassembly_id])


def _heading(place: Position, piece: Component) -> str:
    return f"{capital(place.words)}, {place.subassembly.name}: {piece.name} {piece.code or ''}".strip()


def _made(now: datetime) -> str:
    at = timezone.localtime(now)
    return f"Put together on {day(at.date())}, {at:%H:%M}."


def _not_too_many(records: int) -> None:
    if records > MOST:
        raise Refused(
            Refusal(
                "many",
                f"That would be {records} records in one file; {MOST} is the most.",
                "Open the file of one of its parts, or of one piece.",
            )
        )
