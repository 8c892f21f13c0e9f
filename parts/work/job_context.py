"""What the pages of the ways back show, in a number of queries that does not grow with the rows."""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from ..actions.writing import today
from ..domain.job_words import Ending, StepEnd
from ..domain.jobs import closing_troubles, days_late
from ..domain.pattern_words import is_about_pattern, is_casting
from ..domain.words import State
from ..models import Component, Decision, Firm, Pattern, Position, Renewal, RenewalStep, Repair
from ..models.money import COSTS
from ..models.promises import that_stand
from ..queries.measured import measured
from .writers.renewals import rows_of


@dataclass(frozen=True, kw_only=True)
class StepLine:
    step: RenewalStep
    late: int
    current: bool
    promises: list
    held: list  # the hold points on it that are not released
    about_pattern: bool


@dataclass(frozen=True, kw_only=True)
class Money:
    """Sums of one currency."""

    currency: str
    estimate: Decimal
    committed: Decimal
    actual: Decimal


@dataclass(frozen=True, kw_only=True)
class RouteContext:
    lines: list[StepLine]
    pieces: list[Component]
    replaces_code: str
    money: list[Money]
    against_closing: list  # why it cannot be closed yet; empty while it is not open
    wants_piece: bool
    boxes: list[Pattern]  # what goes with its pattern
    wants_pattern: bool
    to_match: list  # what was taken from the old piece, and how the new one stands to it


def route_of(renewal: Renewal) -> RouteContext:
    now, steps = today(), list(renewal.steps.for_page())
    open_ones = [step for step in steps if step.ended == StepEnd.OPEN]
    pieces = list(Component.objects.of_renewal(renewal))
    alive = [piece for piece in pieces if piece.state != State.WITHDRAWN]
    others = [piece for piece in renewal.position.pieces.live() if piece.pk != renewal.replaces_id]
    is_open = renewal.ended == Ending.OPEN
    return RouteContext(
        lines=[
            StepLine(
                step=step,
                late=days_late(step.promised, now) if step.ended == StepEnd.OPEN else 0,
                current=is_open and step in open_ones[:1],
                promises=[promise for promise in that_stand(step.promises.all()) if promise.old],
                held=[hold for hold in step.holds.all() if hold.stops_on(now)],
                about_pattern=is_about_pattern(step.name) or is_casting(step.name),
            )
            for step in steps
        ],
        pieces=pieces,
        replaces_code=renewal.replaces.tags.current_code() if renewal.replaces else "",
        money=money_of(steps),
        against_closing=closing_troubles(rows_of(renewal), len(alive) + len(others)) if is_open else [],
        wants_piece=is_open and not alive,
        boxes=list(renewal.pattern.parts.in_use().order_by("name", "id")) if renewal.pattern else [],
        wants_pattern=is_open and not renewal.pattern_id and any(is_casting(step.name) for step in open_ones),
        to_match=measured.to_match(renewal.position, alive[0] if alive else None),
    )


def money_of(jobs) -> list[Money]:
    """What steps or repairs were estimated at, are ordered for, and have cost: failed ones too."""
    sums: dict[str, dict[str, Decimal]] = defaultdict(lambda: dict.fromkeys(COSTS, Decimal(0)))
    for job in jobs:
        for name in COSTS:
            if getattr(job, name) is not None:
                sums[job.currency][name] += getattr(job, name)
    return [Money(currency=currency, **found) for currency, found in sorted(sums.items())]


@dataclass(frozen=True, kw_only=True)
class UnderWay:
    renewal: Renewal
    step: RenewalStep | None
    late: int
    slip: int  # days from what was first promised to what is promised now


def under_way(locomotive) -> list[UnderWay]:
    """Every open renewal with its current step, the latest first, then by the promised day."""
    now, found = today(), []
    for renewal in Renewal.objects.of_locomotive(locomotive):
        left = [step for step in renewal.steps.all() if step.ended == StepEnd.OPEN]
        step = left[0] if left else None
        late = days_late(step.promised, now) if step else 0
        found.append(UnderWay(renewal=renewal, step=step, late=late, slip=_slip(step) if step else 0))
    return sorted(found, key=lambda row: -row.late)


def _slip(step: RenewalStep) -> int:
    days = [promise.new for promise in that_stand(step.promises.all()) if promise.new]
    return max((step.promised - days[0]).days, 0) if days and step.promised else 0


def made_without_a_route(locomotive) -> list[tuple[Component, int]]:
    """New pieces in the making that no renewal leads to, and by how many days each is overdue; the latest first."""
    now = today()
    found = Component.objects.filter(locomotive=locomotive, state=State.IN_THE_MAKING, renewal=None).as_found()
    late = [(piece, days_late(piece.promised_back, now)) for piece in found.order_by("name", "id")]
    return sorted(late, key=lambda one: -one[1])


@dataclass(frozen=True, kw_only=True)
class FirmContext:
    pieces: list[tuple[Component, int]]  # what lies there, and by how many days it is overdue
    steps: list[tuple]  # a step, and by how many days it is late
    repairs: list[tuple]
    patterns: list[tuple]  # a pattern that is there to be cast from, and by how many days it is late


def firm_context(firm: Firm) -> FirmContext:
    now = today()
    return FirmContext(
        pieces=[(piece, days_late(piece.promised_back, now)) for piece in Component.objects.lying_in(firm.location)],
        steps=[(step, days_late(step.promised, now)) for step in RenewalStep.objects.at_firm(firm)],
        repairs=[(repair, days_late(repair.promised, now)) for repair in Repair.objects.at_firm(firm)],
        patterns=[(one, days_late(one.promised_back, now)) for one in Pattern.objects.at_firm(firm)],
    )


@dataclass(frozen=True, kw_only=True)
class WorkBeside:
    """What a piece's or a place's page tells of the ways back."""

    decisions: list[Decision]
    repairs: list[Repair]
    renewals: list[Renewal]
    evidence: list
    replaced_by: list[Component]
    cut: list[Component]
    joined: list[Component]
    made_from: list[Pattern]

    def __bool__(self):
        """What replaces it is told among the facts of the piece."""
        return any(getattr(self, name) for name in self.__dataclass_fields__ if name != "replaced_by")


def beside_piece(component: Component) -> WorkBeside:
    """Of a component read `with_beside`."""
    kin = list(Component.objects.come_of(component)) if component.has_kin else []
    return WorkBeside(
        decisions=list(Decision.objects.about_piece(component).for_page()) if component.has_decisions else [],
        repairs=list(component.repairs.select_related("firm").order_by("ended", "-id"))
        if component.has_repairs
        else [],
        renewals=list(Renewal.objects.around_piece(component)),
        evidence=[],
        replaced_by=[piece for piece in kin if piece.replaces_id == component.pk],
        cut=[piece for piece in kin if piece.cut_from_id == component.pk],
        joined=[piece for piece in kin if piece.joined_into_id == component.pk],
        made_from=list(Pattern.objects.made_from(component)) if component.has_castings else [],
    )


def beside_place(place: Position) -> WorkBeside:
    return WorkBeside(
        decisions=list(Decision.objects.about_empty(place).for_page()),
        repairs=[],
        renewals=list(Renewal.objects.of_place(place)),
        evidence=list(place.evidence_rows.about(place)),
        replaced_by=[],
        cut=[],
        joined=[],
        made_from=list(Pattern.objects.for_place(place)),
    )
