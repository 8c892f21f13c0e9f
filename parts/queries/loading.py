"""The loader behind every decision: database rows in, plain rows out. Its queries do not grow with the rows (a test).

`scope` names positions by lookups of Position, such as `{"subassembly_id": 7}` or `{"id__in": [1, 2]}`.
"""

from collections import defaultdict
from dataclasses import replace

from django.db.models import F, FilteredRelation, Q, QuerySet

from core.models.prepared import prepared

from ..domain import rows
from ..domain.exams_due import cracked
from ..domain.words import LIVE, Kind, Method, Side, State, Whereabouts
from ..models import Component, GoesOnAfter, HoldPoint, Position
from . import loading_jobs
from .measured import Sizes, measured
from .missed import missed_in_words

LIVE_VALUES = tuple(state.value for state in LIVE)


def load_places(scope: dict) -> list[rows.Place]:
    """The places in scope with everything that their own needs rest on."""
    positions = _positions(scope)
    pieces, sizes = _pieces_and_sizes({f"place__{key}": value for key, value in scope.items()})
    by_place = defaultdict(list)
    for piece in pieces:
        by_place[piece.place].append(piece)
    around = _Around(scope, positions, measured.fits(scope) if sizes.called_for else {})
    return [_place(position, by_place[position.pk], around) for position in positions]


@prepared
def _positions(scope: dict) -> QuerySet:
    return (
        Position.objects.filter(retired=False, **scope)  # type: ignore[no-redef]  # the model says what is added
        .select_related("part_of")
        .annotate(outer_opened=F("part_of__opened"), outermost_opened=F("part_of__part_of__opened"))
        .annotate(group=F("subassembly__code"), group_caution=F("subassembly__caution"))
        .annotate(**loading_jobs.of_places())
        .order_by("id")
    )


def load_pieces(filters: dict) -> list[rows.Piece]:
    """The pieces that the filters find, withdrawn ones left out, with their examinations and sizes."""
    return _pieces_and_sizes(filters)[0]


def _pieces_and_sizes(filters: dict) -> tuple[list[rows.Piece], Sizes]:
    components = _components(filters)
    looks = measured.examinations(filters) if components else {}
    sizes = measured.sizes(filters) if any(component.place_id for component in components) else Sizes()
    repaired, noted = [component.pk for component in components if component.has_repair], _noted(components)
    repairs = loading_jobs.load_repairs(repaired) if repaired else {}
    missing = [component for component in components if component.missed_on and not component.fitted_id]
    missed = missed_in_words(missing) if missing else {}
    return [
        piece_row(
            component,
            looks.get(component.pk, ()),
            dimensions=sizes.of_piece(component),
            repairs=tuple(repairs.get(component.pk, ())),
            provisional=noted.get(component.noted or 0),
            missed=missed.get(component.pk, ""),
        )
        for component in components
    ], sizes


@prepared
def _components(filters: dict) -> QuerySet:
    return (
        Component.objects.filter(**filters)  # type: ignore[no-redef]  # the model says what is added
        .exclude(state=State.WITHDRAWN)
        .annotate(current_tag=FilteredRelation("tags", condition=Q(tags__current=True)))
        .annotate(code=F("current_tag__code"), **loading_jobs.of_pieces())
        .select_related("location", "came_off")
        .order_by("id")
    )


def _noted(things: list) -> dict[int, rows.Provisional]:
    """What was noted of these pieces or places, by the number of the decision."""
    decisions = [thing.noted for thing in things if thing.noted]
    return loading_jobs.load_noted(decisions) if decisions else {}


def piece_row(component: Component, looks=(), **more) -> rows.Piece:
    """One component as the rules see it."""
    location, came_off = component.location, component.came_off
    return rows.Piece(
        id=component.pk,
        tag=getattr(component, "code", "") or "",
        state=State(component.state),
        name=component.name,
        quantity=component.quantity,
        since=component.since,
        event=component.last_event,
        bared_event=component.bared_event,
        sent_back_by=getattr(component, "sent_back_by", None) or "",
        cleaned_event=component.cleaned_event,
        welded_event=component.welded_event,
        side=Side(component.side),
        marks=component.marks,
        mass_kg=float(component.mass_kg or 0),
        place=component.place_id,
        renewal=component.renewal_id or 0,
        came_off=component.came_off_id,
        came_off_words=came_off.words if came_off else "",
        on_trial=component.on_trial,
        left_alone=component.left_alone,
        broken_down=component.broken_down,
        matched=component.matched,
        whereabouts=whereabouts(component),
        where=location.path if location else "",
        away_since=component.away_since,
        promised_back=component.promised_back,
        look_again=component.look_again,
        vouched_state=State(component.vouched_state) if component.vouched_state else None,
        vouched_event=component.vouched_event,
        confirmed=component.confirmed,
        cracked=cracked(component.quarantined, looks, component.bared_event),
        papers=bool(component.papers.strip()),
        repaired=getattr(component, "repaired", None) or "",
        before_refit=State(component.before_refit) if component.before_refit else None,
        examinations=tuple(looks),
        **more,
    )


def whereabouts(component: Component) -> Whereabouts:
    """A fitted piece lies where what it is fitted in lies; a loose one without a location is lost to sight."""
    if component.missed_on and not component.fitted_id:
        return Whereabouts.MISSED
    if component.location is None:
        return Whereabouts.WORKS if component.fitted_id else Whereabouts.UNKNOWN
    return Whereabouts.ELSEWHERE if component.location.away else Whereabouts.WORKS


@prepared
def _holds(scope: dict) -> QuerySet:
    of_place = Q(**{f"position__{key}": value for key, value in scope.items()})
    of_piece = Q(**{f"component__place__{key}": value for key, value in scope.items()})
    found = HoldPoint.objects.filter(of_place | of_piece, overhaul__closed__isnull=True)
    return found.exclude(component__state=State.WITHDRAWN).select_related("component", "stopped_by")


@prepared
def _orders(scope: dict) -> QuerySet:
    return GoesOnAfter.objects.filter(**{f"position__{key}": value for key, value in scope.items()})


@prepared
def _outer(scope: dict) -> QuerySet:
    """The pieces that those in these places belong into."""
    around = {f"place__inner__{key}": value for key, value in scope.items()}
    return Component.objects.exclude(state=State.WITHDRAWN).filter(**around).distinct()


@prepared
def _within(scope: dict) -> QuerySet:
    """The places inside those in scope, however deep."""
    within = {f"part_of__{key}": value for key, value in scope.items()}
    return Position.objects.inside(**within).filter(retired=False).select_related("part_of").order_by("id")


class _Around:
    """What stands around the places in scope: holds, orders, inner and outer places, matched sets, renewals."""

    def __init__(self, scope, positions, fits):
        self.fits = fits
        renewed, self.noted = [position.pk for position in positions if position.has_renewal], _noted(positions)
        self.renewals = loading_jobs.load_renewals(renewed) if renewed else {}
        self.holds: dict[int | None, list[rows.Hold]] = defaultdict(list)
        self.of_pieces: dict[int | None, list[rows.Hold]] = defaultdict(list)
        for hold in _holds(scope):
            own = hold.component is not None and hold.component.state in LIVE_VALUES
            where = self.of_pieces[hold.component_id] if own else self.holds[self._place_of(hold)]
            where.append(hold_row(hold))
        for place, hold in loading_jobs.holds_on_steps(self.renewals) if renewed else ():
            self.holds[place].append(hold_row(hold))
        self.orders: dict[int, list[int]] = defaultdict(list)
        for one in _orders(scope):
            self.orders[one.position_id].append(one.after_id)
        self.inner: dict[int | None, list[Position]] = defaultdict(list)
        self.inside: dict[int | None, list[rows.InnerPlace]] = defaultdict(list)
        for position in _within(scope):
            self.inner[position.part_of_id].append(position)
            if position.part_of and is_looked_at_inside(position):
                self.inside[position.part_of_id].append(inner_place(position))
                self.inside[position.part_of.part_of_id].append(inner_place(position))
        self.outer: dict[int | None, Component] = {}
        within = any(position.part_of_id for position in positions)  # mostly none is, which saves a query
        for component in _outer(scope) if within else ():
            # a new one in the making takes pieces in only where no other one is there
            if component.state in LIVE_VALUES or component.place_id not in self.outer:
                self.outer[component.place_id] = component
        self.apart = self._sets_apart({(p.locomotive_id, p.matched) for p in positions if p.matched})

    @staticmethod
    def _place_of(hold: HoldPoint) -> int | None:
        """What stops a new piece in the making stops its place."""
        return hold.component.place_id if hold.component and not hold.position_id else hold.position_id

    def renewal_of(self, position: Position, pieces: list[rows.Piece]) -> rows.Renewal | None:
        """The renewal that a place waits for; or a new piece that was begun without one."""
        making = [piece for piece in pieces if piece.state is State.IN_THE_MAKING]
        if position.pk in self.renewals:
            return loading_jobs.promised_first(self.renewals[position.pk], making)
        return loading_jobs.in_the_making(making[0]) if making else None

    def with_holds(self, piece: rows.Piece) -> rows.Piece:
        own = self.of_pieces.get(piece.id)
        return replace(piece, holds=tuple(own)) if own else piece

    def _sets_apart(self, keys) -> set[tuple[int, str]]:
        """(locomotive, set) of the matched sets of which a piece is missing or from elsewhere."""
        if not keys:
            return set()
        together = (
            Position.objects.exclude(standing="asleep")
            .filter(retired=False, locomotive__in={key[0] for key in keys}, matched__in={key[1] for key in keys})
            .annotate(mate=FilteredRelation("pieces", condition=Q(pieces__state__in=LIVE_VALUES)))
        )
        apart = set()
        for locomotive, key, piece_key in together.values_list("locomotive_id", "matched", "mate__matched"):
            if piece_key != key:
                apart.add((locomotive, key))
        return apart & keys


def _place(position: Position, pieces: list[rows.Piece], around: _Around) -> rows.Place:
    outer = around.outer.get(position.part_of_id)
    inner = around.inner[position.pk]
    asleep = position.part_of_id is not None and not (position.outer_opened and position.outermost_opened is not False)
    open_inner = [p.words for p in inner if p.required and p.standing != "refitted"] if position.opened else []
    return rows.Place(
        id=position.pk,
        subassembly=position.subassembly_id,
        name=position.name,
        words=position.words,
        side=Side(position.side),
        axle=position.axle,
        end=position.end,
        quantity=position.quantity,
        required=position.required,
        group=position.group,
        material=position.material,
        caution=position.caution,
        group_caution=position.group_caution,
        asleep=asleep,
        known_empty=position.known_empty,
        empty_since=position.known_empty_on,
        evidence=position.evidence,
        safety_critical=position.safety_critical,
        pressure_part=position.pressure_part,
        crack_check=position.crack_check,
        surfaces=frozenset(position.surfaces),
        calls_for=tuple(Kind(kind) for kind in position.calls_for),
        material_papers=position.material_papers,
        made_to_suit=position.made_to_suit,
        needed_first=position.needed_first,
        own_order=tuple(around.orders[position.pk]),
        part_of=position.part_of_id,
        part_of_there=outer is not None and outer.broken_down,
        matched=position.matched,
        set_together=(position.locomotive_id, position.matched) not in around.apart,
        inner=len(inner),
        inner_critical=any(p.safety_critical or p.pressure_part for p in inner),
        inner_open=tuple(open_inner),
        inside=tuple(around.inside[position.pk]),
        outer=State(outer.state) if outer else None,
        outer_words=position.part_of.words if position.part_of else "",
        pieces=tuple(around.with_holds(p) for p in pieces if p.state in LIVE),
        holds=tuple(around.holds[position.pk]),
        renewal=around.renewal_of(position, pieces),
        provisional=around.noted.get(position.noted or 0),
        fits=tuple(around.fits.get(position.pk, ())),
    )


def is_looked_at_inside(position: Position) -> bool:
    """What is made to suit at fitting, or may be missing, is not owed a look while the piece around it is whole."""
    return position.safety_critical and position.required and not (position.made_to_suit or position.known_empty)


def inner_place(position: Position) -> rows.InnerPlace:
    crack_check = position.crack_check or (Method.ANY if Kind.CRACK_CHECK in position.calls_for else "")
    return rows.InnerPlace(words=position.words, crack_check=str(crack_check))


def inside_of(component: Component) -> tuple[rows.InnerPlace, ...]:
    """What a piece that is left whole owes the looks of."""
    if component.place_id is None or component.broken_down:
        return ()
    return tuple(inner_place(one) for one in _within({"pk": component.place_id}) if is_looked_at_inside(one))


def bare_place(position: Position) -> rows.Place:
    """What a place says of itself and of its subassembly, without asking what is in it."""
    return rows.Place(
        id=position.pk,
        subassembly=position.subassembly_id,
        name=position.name,
        words=position.words,
        group=position.subassembly.code,
        material=position.material,
        caution=position.caution,
        group_caution=position.subassembly.caution,
        safety_critical=position.safety_critical,
        crack_check=position.crack_check,
        surfaces=frozenset(position.surfaces),
        calls_for=tuple(Kind(kind) for kind in position.calls_for),
    )


def hold_row(hold: HoldPoint) -> rows.Hold:
    return rows.Hold(
        id=hold.pk,
        name=hold.name,
        stops=frozenset(hold.stops),
        body=hold.body,
        asked=hold.asked_on,
        expires=hold.expires,
        released=hold.released_on is not None,
        stopped_by=str(hold.stopped_by) if hold.stopped_by_id else "",
        stopped_on=hold.stopped_on,
    )
