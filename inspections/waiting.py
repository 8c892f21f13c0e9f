"""Pieces that wait to be looked at, by method and place: an examiner's day. Two queries and a count for each page."""

from dataclasses import dataclass, field

from django.core.paginator import Paginator
from django.db.models import Count

from parts.domain.words import Kind, Method, Need
from parts.models import Component, Position

A_PAGE = 50
LOOKS = {Need.EXAMINE: Kind.VISUAL, Need.MEASURE: Kind.DIMENSIONAL, Need.RECHECK: "in doubt", Need.DECIDE: "decision"}
METHODS = tuple(f"{Kind.CRACK_CHECK}: {method}" for method in Method)


@dataclass
class Waiting:
    """One place, and the pieces in it that the look is for."""

    place: Position
    pieces: list[Component] = field(default_factory=list)


def sorts() -> dict[str, int]:
    """How many places wait, by what they wait for: 'crack check: penetrant', 'visual', 'in doubt' …"""
    rows = Position.objects.waiting_for((*LOOKS, Need.CRACK_CHECK)).values_list("need", "crack_check")
    counted = dict.fromkeys((*METHODS, *LOOKS.values()), 0)
    for need, method, number in rows.annotate(number=Count("id")).order_by():
        counted[sort_of(need, method)] += number
    return {sort: number for sort, number in counted.items() if number}


def sort_of(need: str, method: str) -> str:
    return f"{Kind.CRACK_CHECK}: {method or Method.ANY}" if need == Need.CRACK_CHECK else LOOKS[Need(need)]


def waiting(sort: str, number):
    """One page of places that wait for this sort of look, or for any, each with its pieces."""
    page = Paginator(_places(sort), A_PAGE).get_page(number)
    rows = {place.pk: Waiting(place) for place in page.object_list}
    for piece in Component.objects.live_in(rows).with_codes().select_related("location"):
        rows[piece.place_id].pieces.append(piece)
    page.object_list = list(rows.values())
    return page


def _places(sort: str):
    kind, _, method = sort.partition(": ")
    if kind == Kind.CRACK_CHECK:
        found = Position.objects.waiting_for((Need.CRACK_CHECK,)).by_method(method)
    else:
        needs = [need for need, word in LOOKS.items() if word == sort] or (*LOOKS, Need.CRACK_CHECK)
        found = Position.objects.waiting_for(needs)
    return found.select_related("subassembly", "locomotive").order_by("locomotive", "subassembly", "name", "id")
