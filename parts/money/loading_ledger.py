"""The loader of the ledger: in four queries, however many pieces there are."""

from collections import defaultdict

from django.db.models import OuterRef, Q, Subquery

from core.models import Event

from ..domain.job_words import Ending
from ..domain.ledger import Ledger, Mended, Piece, Sub, ledger
from ..domain.words import Origin, State
from ..models import Component, Repair


def load_ledger(locomotive) -> Ledger:
    subs = [Sub(id=sub.pk, name=sub.name, depth=sub.depth) for sub in locomotive.subassemblies.as_tree()]
    mended = _mended(locomotive)
    return ledger(subs, [_piece(component, mended) for component in _components(locomotive)])


def _of(locomotive, before=""):
    return Q(**{f"{before}locomotive": locomotive}) | Q(**{f"{before}place__locomotive": locomotive})


def _components(locomotive):
    last = Event.objects.about("piece", OuterRef("pk")).filter(action="withdraw").order_by("-id")
    found = Component.objects.filter(_of(locomotive)).with_codes().select_related("place", "came_off")
    return found.annotate(reason=Subquery(last.values("remark")[:1])).order_by("id")


def _mended(locomotive) -> dict[int, list[Mended]]:
    by_piece = defaultdict(list)
    done = Repair.objects.filter(_of(locomotive, "component__"), ended=Ending.DONE.value)
    for piece, let_in, kg in done.order_by("id").values_list("component", "let_in", "let_in_kg"):
        by_piece[piece].append(Mended(let_in=let_in, kg=kg))
    return by_piece


def _piece(component, mended) -> Piece:
    place = component.place or component.came_off
    return Piece(
        id=component.pk,
        name=component.name,
        code=component.code or "",
        quantity=component.quantity,
        each_kg=component.mass_kg,
        state=State(component.state),
        origin=Origin(component.origin),
        subassembly=place.subassembly_id if place else None,
        where_it_was=place.words if place else "",
        mended=tuple(mended[component.pk]),
        destination=component.destination,
        reason=component.reason or "" if component.state == State.WITHDRAWN else "",
        replaces=component.replaces_id,
    )
