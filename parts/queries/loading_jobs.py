"""The ways back in plain rows: repairs and renewals that are open, and what was decided only provisionally.

Whether a piece or a place has any is asked in the one query that finds it, so that most of the time nothing here is
called.
"""

from collections import defaultdict
from typing import Any

from django.db.models import Exists, F, OuterRef, Prefetch, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce, Concat, NullIf, Trim
from django.utils import timezone

from core.models import Event
from core.models.prepared import Scope, prepared

from ..domain import rows
from ..domain.job_words import StepEnd
from ..domain.words import Whereabouts
from ..models import Decision, HoldPoint, Renewal, RenewalStep, Repair

FOR_GOOD = ("accept", "pass", "confirm", "leave alone", "withdraw", "bring back", "take over")
"""After one of these, what had been noted provisionally is settled."""

FULL_NAME = Trim(Concat(F("actor__first_name"), Value(" "), F("actor__last_name")))
ACTOR = Coalesce(NullIf(FULL_NAME, Value("")), F("actor__username"))
"""As a person is written everywhere (`Person.__str__`)."""

PASSING = "it is made, and waits to be examined and passed"
BEGINNING = "every step is done; begin the new piece, or close the renewal"


def of_pieces() -> dict:
    """What the query of pieces asks besides."""
    settled = Event.objects.about("piece", OuterRef("component")).filter(
        action__in=FOR_GOOD, id__gt=OuterRef("event_id")
    )
    noted = Decision.objects.in_force().filter(~Exists(settled), component=OuterRef("pk"), provisional=True)
    open_ones = Repair.objects.under_way().filter(component=OuterRef("pk"))
    done = Repair.objects.filter(component=OuterRef("pk"), done_event__gte=OuterRef("bared_event"))
    sent_back = Event.objects.filter(pk=OuterRef("bared_event"), action="send back")
    return {
        "noted": Subquery(noted.order_by("-id").values("pk")[:1]),
        "has_repair": Exists(open_ones),
        "sent_back_by": Subquery(sent_back.values(name=ACTOR)),
        "repaired": Subquery(done.order_by("-done_event").values("method")[:1]),
    }


def of_places() -> dict:
    """What the query of places asks besides."""
    noted = Decision.objects.in_force().filter(position=OuterRef("pk"), component__isnull=True, provisional=True)
    under_way = Renewal.objects.under_way().filter(position=OuterRef("pk"))
    return {"noted": Subquery(noted.order_by("-id").values("pk")[:1]), "has_renewal": Exists(under_way)}


def load_noted(ids: list[int]) -> dict[int, rows.Provisional]:
    """What these decisions noted, by their numbers."""
    decisions = Decision.objects.filter(pk__in=ids).select_related("decided_by")
    return {
        decision.pk: rows.Provisional(
            outcome=decision.outcome,
            by=str(decision.decided_by),
            reason=decision.reason,
            on=timezone.localdate(decision.at),
            event=decision.event_id,
        )
        for decision in decisions
    }


def load_repairs(pieces: list[int]) -> dict[int, list[rows.Repair]]:
    """The open repairs of each piece, the one begun first leading."""
    by_piece: dict[int, list[rows.Repair]] = defaultdict(list)
    for repair in _repairs({"component__in": pieces}):
        by_piece[repair.component_id].append(
            rows.Repair(
                id=repair.pk,
                what=repair.what,
                method=repair.method,
                who=repair.by_words,
                promised=repair.promised,
                since=repair.ordered or repair.opened,
                slips=repair.slips,
            )
        )
    return by_piece


def load_renewals(places: list[int]) -> dict[int, list[Renewal]]:
    """The open renewals of each place, with their steps."""
    by_place: dict[int, list[Renewal]] = defaultdict(list)
    for renewal in _renewals({"position__in": places}):
        by_place[renewal.position_id].append(renewal)
    return by_place


@prepared
def _repairs(scope: Scope) -> QuerySet[Any]:
    return Repair.objects.under_way().filter(**scope).with_slips().select_related("firm").order_by("id")


@prepared
def _renewals(scope: Scope) -> QuerySet[Renewal]:
    steps = RenewalStep.objects.with_slips().select_related("firm").order_by("number", "id")
    return Renewal.objects.under_way().filter(**scope).order_by("id").prefetch_related(Prefetch("steps", steps))


def holds_on_steps(renewals: dict[int, list[Renewal]]) -> list[tuple[int, HoldPoint]]:
    """The hold points on the steps that are taken now, each with the place that waits."""
    left = [(place, _left(renewal)) for place, found in renewals.items() for renewal in found]
    now = {steps[0].pk: place for place, steps in left if steps}
    held = HoldPoint.objects.filter(step__in=now, overhaul__closed__isnull=True).order_by("id")
    return [(now[hold.step_id], hold) for hold in held if hold.step_id]


def promised_first(renewals: list[Renewal], making: list[rows.Piece]) -> rows.Renewal:
    """The one that their place waits for. `making`: the new pieces there."""
    found = [_renewal_row(renewal, making) for renewal in renewals]
    return min(found, key=lambda row: (row.promised is None, row.promised, row.id))


def _left(renewal: Renewal) -> list:
    """Its steps that are still to be done, in their order."""
    return [step for step in renewal.steps.all() if step.ended == StepEnd.OPEN]


def _renewal_row(renewal: Renewal, making: list[rows.Piece]) -> rows.Renewal:
    own = [piece for piece in making if piece.renewal in (renewal.pk, 0)]
    tag = own[0].tag if own else ""
    left = _left(renewal)
    done = max((step.ended_on for step in renewal.steps.all() if step.ended_on), default=renewal.opened)
    if not left:
        return rows.Renewal(id=renewal.pk, step=PASSING if tag else BEGINNING, since=done, tag=tag)
    step = left[0]
    return rows.Renewal(
        id=renewal.pk,
        step=step.name,
        who=step.by_words,
        promised=step.promised or (own[0].promised_back if own else None),
        since=step.ordered or done,
        tag=tag,
        slips=step.slips,
        steps_open=True,
    )


def in_the_making(piece: rows.Piece) -> rows.Renewal:
    """A new piece that was begun without a route: where it lies is all that is known."""
    away = piece.whereabouts is Whereabouts.ELSEWHERE
    return rows.Renewal(
        step="in the making",
        who=piece.where if away else "",
        promised=piece.promised_back,
        since=piece.since,
        tag=piece.tag,
    )
