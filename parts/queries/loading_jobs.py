"""The ways back in plain rows: repairs and renewals that are open, and what was decided only provisionally.

Whether a piece or a place has any is asked in the one query that finds it, so that most of the time nothing more is.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace

from django.db.models import Exists, OuterRef, Subquery
from django.utils import timezone

from core.models import Event

from ..domain import rows
from ..domain.job_words import StepEnd
from ..domain.words import Result, State, Whereabouts
from ..models import Decision, HoldPoint, Renewal, RenewalStep, Repair

FOR_GOOD = ("accept", "pass", "confirm", "leave alone", "withdraw", "bring back", "take over")
"""After one of these, what had been noted provisionally is settled."""

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
    return {
        "noted": Subquery(noted.order_by("-id").values("pk")[:1]),
        "has_repair": Exists(open_ones),
        "repaired": Subquery(done.order_by("-done_event").values("method")[:1]),
    }


def of_places() -> dict:
    """What the query of places asks besides."""
    noted = Decision.objects.in_force().filter(position=OuterRef("pk"), component__isnull=True, provisional=True)
    under_way = Renewal.objects.under_way().filter(position=OuterRef("pk"))
    return {"noted": Subquery(noted.order_by("-id").values("pk")[:1]), "has_renewal": Exists(under_way)}


def load_noted(found: Iterable) -> dict[int, rows.Provisional]:
    """What was noted of these pieces or places, by the number of the decision."""
    ids = [thing.noted for thing in found if thing.noted]
    if not ids:
        return {}
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


def load_repairs(components: Iterable) -> dict[int, list[rows.Repair]]:
    """The open repairs of each piece, the one begun first leading."""
    ids = [component.pk for component in components if component.has_repair]
    by_piece: dict[int, list[rows.Repair]] = defaultdict(list)
    if not ids:
        return by_piece
    found = Repair.objects.under_way().filter(component__in=ids).with_slips().select_related("firm").order_by("id")
    for repair in found:
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


def answered(looks: Mapping[int, list[rows.Examination]]) -> Mapping[int, list[rows.Examination]]:
    """A decision on the piece that rests on a record decides what that record found, where it is the responsible
    engineer's and the record's own findings were not decided one by one."""
    waiting = [e.event for exams in looks.values() for e in exams if e.result != Result.SOUND and not e.decision]
    if not waiting:
        return looks
    through = Decision.examined.through.objects.filter(
        event__in=waiting,
        decision__provisional=False,
        decision__outcome__in=("repair", "renew", "withdraw"),
        decision__event__data__decides_findings=True,
    ).order_by("decision_id")
    answers = {event: answer for event, *answer in through.values_list("event", "decision__outcome", "decision__event")}
    return {piece: [_answered(exam, answers.get(exam.event)) for exam in exams] for piece, exams in looks.items()}


def _answered(exam, answer):
    if exam.decision or not answer:
        return exam
    return replace(exam, decision=answer[0], decided_event=answer[1])


class Renewals:
    """The open renewals of the places in hand, with their steps."""

    def __init__(self, positions: Iterable):
        ids = [position.pk for position in positions if position.has_renewal]
        self.by_place, self.steps = defaultdict(list), defaultdict(list)
        if not ids:
            return
        for renewal in Renewal.objects.under_way().filter(position__in=ids).order_by("id"):
            self.by_place[renewal.position_id].append(renewal)
        open_ones = [renewal.pk for found in self.by_place.values() for renewal in found]
        steps = RenewalStep.objects.filter(renewal__in=open_ones).with_slips().select_related("firm")
        for step in steps.order_by("renewal", "number", "id"):
            self.steps[step.renewal_id].append(step)

    def holds(self) -> list[tuple[int, HoldPoint]]:
        """The hold points on the steps that are taken now, each with the place that waits."""
        now = {}
        for place, found in self.by_place.items():
            for renewal in found:
                left = [step for step in self.steps[renewal.pk] if step.ended == StepEnd.OPEN]
                if left:
                    now[left[0].pk] = place
        if not now:
            return []
        held = HoldPoint.objects.filter(step__in=now, overhaul__closed__isnull=True).order_by("id")
        return [(now[hold.step_id], hold) for hold in held]

    def of_place(self, position, pieces: list[rows.Piece]) -> rows.Renewal | None:
        """The renewal that a place waits for: of several, the one that is promised first."""
        making = [piece for piece in pieces if piece.state is State.IN_THE_MAKING]
        found = [self._row(renewal, making) for renewal in self.by_place[position.pk]]
        if not found:
            return in_the_making(making[0]) if making else None
        return min(found, key=lambda row: (row.promised is None, row.promised, row.id))

    def _row(self, renewal: Renewal, making: list[rows.Piece]) -> rows.Renewal:
        own = [piece for piece in making if piece.renewal in (renewal.pk, 0)]
        tag = own[0].tag if own else ""
        steps = self.steps[renewal.pk]
        left = [step for step in steps if step.ended == StepEnd.OPEN]
        done = max((step.ended_on for step in steps if step.ended_on), default=renewal.opened)
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
