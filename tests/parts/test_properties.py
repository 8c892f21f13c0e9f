"""No sequence of actions by any mix of people breaks what the design promises of the register."""

from fractions import Fraction

import pytest
from django.db import connection, transaction
from django.db.models import Count, Max, OuterRef, Q, Subquery
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test

from core.domain.refusals import Refused
from core.models import Event, EventSubject
from inspections.findings.writers import decide
from inspections.instruments.writers import calibrate
from inspections.models import Examination, FindingDecision
from inspections.records.writers.signing import sign
from parts.actions.perform import perform
from parts.actions.refresh import out_of_date
from parts.domain.rows import ActionInput
from parts.domain.states import piece_action, with_a_page
from parts.domain.words import Destination, Kind, Method, Result, State
from parts.entering.writers import pieces
from parts.holds import writers as holds
from parts.holds.actions import HOLD, LIFT_STOP, STOP
from parts.models import Component, HoldPoint, Position
from parts.queries.readiness import load_now, load_whole
from parts.stores import writers as moving
from parts.structure.writers import structure
from tests.factories import days, events_of, fresh
from tests.inspections.what_lasts import a_pair
from tests.parts.measuring_rules import Measuring, stays_true

PERFORMED = [action.word for action in with_a_page()]
pytestmark = pytest.mark.engine
FITTED = (State.IN_PLACE, State.REFITTED)
STANDING_ON_SIGNATURES = (State.ACCEPTED, State.RENEWED, State.REFITTED)
HOLDING = [event.word for action in (HOLD, STOP, LIFT_STOP) for event in action.events]
LEAVES_IT = ["photograph", *HOLDING]  # of a piece, without touching its row
WORK = ("clean", "break down", "finish repair", "start on")

a_number = st.integers(0, 10**6)
"""Chosen from what is there by its remainder: what is there is known only when the rule runs."""
mostly = st.sampled_from([True] * 4 + [False])
a_good_form = st.builds(
    ActionInput,
    reason=st.just("seen"),
    override=st.just("the responsible engineer says so"),
    method=st.just("paraffin"),
    work=st.just("bush turned"),
    who=st.just("Invented Welders"),
    destination=st.sampled_from([Destination.SCRAPPED, Destination.SPARE]),
    to=st.sampled_from([State.STRIPPED.value, State.CLEANED.value]),
    protection=st.just("oiled"),
    look_again=st.just(days(100)),
)
a_rough_form = st.builds(
    ActionInput,
    reason=st.sampled_from(["seen", "seen", "seen", ""]),
    override=st.sampled_from(["", "the responsible engineer says so"]),
    method=st.just("paraffin"),
    work=st.sampled_from(["bush turned", "weld at the fillet", ""]),
    who=st.just("Invented Welders"),
    procedure=st.sampled_from(["WP 4", ""]),
    welder=st.just("A. Welder"),
    destination=st.sampled_from([*Destination, "elsewhere"]),
    to=st.sampled_from([State.STRIPPED.value, State.CLEANED.value, State.ACCEPTED.value]),
    protection=st.just("oiled"),
    look_again=st.sampled_from([days(100), days(100), days(-1), None]),
)
a_form = st.one_of(a_good_form, a_good_form, a_good_form, a_rough_form)


def written() -> tuple:
    return Event.objects.count(), list(Component.objects.order_by("pk").values())


class Register(Measuring, RuleBasedStateMachine):
    """One register, rolled back when the sequence ends. `works` is set by the test, which builds it once."""

    works = None

    @initialize()
    def open(self):
        self.rolled_back = transaction.atomic()
        self.rolled_back.__enter__()
        self.people = list(self.works.people)
        self.events, self.signed = [], {}
        self.changes, self.asked = 0, {}
        works, engineer = self.works, self.works.people.engineer
        self.ordinary_way = {
            State.STRIPPED: works.clean,
            State.CLEANED: works.look_at,
            State.CRACK_CHECKED: works.accept,
            State.ACCEPTED: lambda piece: works.refit(piece, engineer, override="the set is together on the bench"),
            State.RENEWED: lambda piece: works.refit(piece, engineer, override="the set is together on the bench"),
        }

    def teardown(self):
        if hasattr(self, "rolled_back"):
            transaction.set_rollback(True)
            self.rolled_back.__exit__(None, None, None)

    # --- choosing

    def chosen(self, rows, number):
        rows = list(rows)
        return rows[number % len(rows)] if rows else None

    def person(self, number, right_one, *names):
        """Mostly somebody who may do it; the conditions behind the role would hardly be reached otherwise."""
        people = self.works.people
        able = [getattr(people, name) for name in names] if right_one and names else self.people
        return able[number % len(able)]

    def tried(self, deed, *args, **words):
        """Do it, or find that a refusal wrote nothing."""
        before = written()
        try:
            given = deed(*args, **words)
        except Refused as refused:
            why = refused.refusals
        else:
            self.changes += 1
            return given
        assert why
        assert all(refusal.sentence for refusal in why)
        assert written() == before
        return None

    # --- what people do

    @rule(n=a_number, who=a_number, able=mostly, quantity=st.integers(1, 3))
    def strip_a_new_piece(self, n, who, able, quantity):
        place = self.chosen(Position.objects.filter(retired=False), n)
        self.tried(
            pieces.strip_new,
            self.person(who, able, "volunteer", "fitter"),
            locomotive=place.locomotive,
            name=place.name,
            place=place if n % 7 else None,
            location=self.works.crate,
            quantity=min(quantity, place.quantity),
        )

    @rule(n=a_number, who=a_number, able=mostly)
    def start_on_a_new_piece(self, n, who, able):
        place = self.chosen(Position.objects.filter(retired=False), n)
        actor = self.person(who, able, "manager", "engineer")
        self.tried(pieces.start_on, actor, place=place, name="new piece", location=self.works.crate)

    @rule(action=st.sampled_from(PERFORMED), n=a_number, m=a_number, who=a_number, form=a_form, two=mostly, able=mostly)
    def act(self, action, n, m, who, form, two, able):
        """Anybody tries anything on any piece."""
        self.perform(action, self.chosen(Component.objects.all(), n), who, form, two, other=m, able=able)

    @rule(n=a_number, m=a_number, who=a_number, form=a_form)
    def act_as_the_state_suggests(self, n, m, who, form):
        """What is likely in this state, by an engineer or fitter: sequences that get somewhere."""
        piece = self.chosen(Component.objects.all(), n)
        if piece:
            self.perform(self.chosen(LIKELY[piece.state], m), piece, who, form, True, other=m, able=True)

    @rule(n=a_number, steps=st.integers(1, 4))
    def work_on_a_piece(self, n, steps):
        """As the works would: clean it, look at it, accept it, refit it, each by whoever ought to."""
        piece = self.chosen(Component.objects.exclude(state=State.WITHDRAWN).exclude(place=None), n)
        for _ in range(steps if piece else 0):
            deed = self.ordinary_way.get(fresh(piece).state)
            if deed:
                self.tried(deed, piece)

    @rule(action=st.sampled_from(PERFORMED), n=a_number, m=a_number, who=a_number, form=a_good_form)
    def act_where_the_action_may_start(self, action, n, m, who, form):
        """Rare actions, on a piece in a state that they start from."""
        found = Component.objects.filter(state__in=[s for s in piece_action(action).starts if s])
        if action == "break down":
            found = found.filter(place__inner__isnull=False).distinct()
        self.perform(action, self.chosen(found, n), who, form, True, other=m, able=True)

    def perform(self, action, piece, who, form, two, *, other=0, able=False):
        if piece is None:
            return
        actor = self.person(who, able, "engineer", "second_engineer", "fitter")
        if two:
            checker = self.works.people.second_fitter
            form = ActionInput(
                **{f: getattr(form, f) for f in ActionInput.__dataclass_fields__} | {"checker": checker.pk}
            )
        alike = Component.objects.filter(place__name=piece.place.name if piece.place else "")
        second = self.chosen(alike if able else Component.objects.all(), other)
        second = second if action == "change places" else None
        event = self.tried(perform, action, piece, actor, form, seen=piece.last_event, other=second)
        if event and action == "withdraw" and piece.place:
            place = Position.objects.get(pk=piece.place_id)
            assert place.known_empty or sum(p.quantity for p in place.pieces.live()) >= place.quantity
        if event:
            self.a_stale_form_is_refused(action, piece, actor, form)

    def a_stale_form_is_refused(self, action, piece, actor, form):
        written = Event.objects.count()
        with pytest.raises(Refused) as stale:
            perform(action, piece, actor, form, seen=piece.last_event)
        assert [refusal.code for refusal in stale.value.refusals] == ["stale"]
        assert Event.objects.count() == written

    @rule(
        n=a_number,
        who=a_number,
        able=mostly,
        kind=st.sampled_from(Kind),
        result=st.sampled_from([Result.SOUND] * 4 + [Result.INDICATION, Result.DEFECT]),
        found=st.sampled_from(["crack in the fillet", ""]),
    )
    def examine(self, n, who, able, kind, result, found):
        piece = self.chosen(Component.objects.exclude(state__in=(State.STRIPPED, State.IN_PLACE)), n)
        if piece is None:
            return
        method = Method.MAGNETIC_PARTICLE if kind is Kind.CRACK_CHECK else ""
        reached = ["journal", "wheel seat"] if n % 5 else ["journal"]
        actor = self.person(who, able, "examiner", "second_examiner", "second_engineer")
        found = found if result is not Result.SOUND else ""
        self.tried(sign, piece, actor, kind=kind, method=method, result=result, found=found, reached=reached)

    @rule(n=a_number, who=a_number, able=mostly, decision=st.sampled_from(FindingDecision.Decision.values))
    def decide_a_finding(self, n, who, able, decision):
        record = self.chosen(Examination.objects.exclude(result=Result.SOUND), n)
        if record:
            actor = self.person(who, able, "engineer", "second_engineer")
            self.tried(decide, record, actor, decision=decision, reason="looked at it together")

    @rule(n=a_number, m=a_number, who=a_number, able=mostly)
    def choose_a_place(self, n, m, who, able):
        piece = self.chosen(Component.objects.filter(state__in=(State.STRIPPED, State.CLEANED)), n)
        place = self.chosen([*Position.objects.filter(retired=False), None], m)
        if piece:
            self.tried(pieces.choose_place, piece, place, self.person(who, able, "engineer"))

    @rule(n=a_number, who=a_number, away=st.booleans())
    def move_or_split(self, n, who, away):
        piece, actor = self.chosen(Component.objects.all(), n), self.person(who, True, "storekeeper", "trustee")
        if piece.quantity > 1:
            self.tried(pieces.split_lot, piece, 1, actor)
        else:
            self.tried(moving.move, piece, self.firm if away else self.works.crate, actor)

    @rule(n=a_number, who=a_number, quantity=st.integers(1, 4), required=st.booleans(), deed=st.integers(0, 5))
    def the_structure_changes(self, n, who, quantity, required, deed):
        """Mostly edited; sometimes a place is found empty, or taken away while enough remain."""
        there, people = Position.objects.filter(retired=False), self.works.people
        place = self.chosen(there, n)
        if deed == 0 and there.count() > 8:
            self.tried(structure.remove_position, place, people.manager)
        elif deed == 1:
            actor = self.person(who, True, "engineer", "manager", "fitter")
            self.tried(structure.set_known_empty, place, actor, "the bolt holes are rusted over")
        else:
            fields = {"quantity": quantity} if place.quantity > 1 else {"required": required}
            self.tried(structure.edit_position, place, people.manager, **fields)

    @rule(n=a_number, stops=st.sampled_from(holds.stoppable()), on_piece=st.booleans(), until=st.integers(1, 300))
    def a_hold_point_is_set_or_released(self, n, stops, on_piece, until):
        piece, place = self.chosen(Component.objects.all(), n), self.chosen(Position.objects.all(), n)
        engineer, open_one = self.works.people.engineer, HoldPoint.objects.filter(released_on=None).first()
        if open_one:
            expires = days(until) if n % 2 else None
            self.tried(holds.release, open_one, engineer, reference="letter 4", filed="file", expires=expires)
        else:
            on = {"component": piece} if on_piece else {"position": place}
            entered = {"name": "drawing", "stops": [stops], "body": "the owner"}
            self.tried(holds.add_hold, self.works.locomotive.open_overhaul(), engineer, **entered, **on)

    @rule(until=st.integers(1, 300), certificate=a_number, true=mostly)
    def an_instrument_is_calibrated(self, until, certificate, true):
        entered = {"until": days(until), "uncertainty": Fraction("0.01")} if true else {"found_out": True}
        engineer = self.works.people.engineer
        self.tried(calibrate, self.instrument, engineer, on=days(0), certificate=str(certificate), **entered)

    # --- what stays true

    @rule(after=st.integers(0, 400))
    def what_is_counted_from_what_is_stored_is_what_whole_rows_tell_on_any_day(self, after):
        works, day = self.works.locomotive, days(after)
        counted, told = load_now(works, day).readiness(), load_whole(works, day)
        for one, other in zip(counted.subassemblies, told.subassemblies, strict=True):
            assert one._replace(blockers=()) == other._replace(blockers=())

    @stays_true
    def every_piece_is_told_truly(self):
        current = Count("tags", filter=Q(tags__current=True), distinct=True)
        about = EventSubject.objects.filter(kind="piece", number=OuterRef("pk")).exclude(event__action__in=LEAVES_IT)
        newest = about.order_by().values("number").annotate(newest=Max("event")).values("newest")
        told = Component.objects.annotate(tags_now=current, latest=Subquery(newest))
        for piece in told.select_related("place", "location"):
            assert piece.state in list(State)
            assert piece.fitted_id == (piece.place_id if piece.state in FITTED else None)
            assert (piece.state in FITTED) <= (piece.place_id is not None)
            assert (piece.state == State.WITHDRAWN) == bool(piece.destination)
            assert (piece.tags_now, piece.last_event) == (1, piece.latest)
            if piece.state in FITTED:
                inner = piece.place.part_of_id is not None
                assert piece.location == (None if inner else self.works.locomotive.location)

    @stays_true
    def no_place_holds_more_than_it_takes(self):
        for place in Position.objects.prefetch_related("pieces"):
            live = [p for p in place.pieces.all() if p.state not in (State.WITHDRAWN, State.IN_THE_MAKING)]
            assert sum(piece.quantity for piece in live) <= place.quantity
            assert not (place.retired and live)

    @stays_true
    def every_required_place_is_refitted_ready_or_blocked(self):
        required = Position.objects.filter(retired=False, required=True).select_related("part_of__part_of")
        awake = [p for p in required if p.part_of is None or p.part_of.opened]
        counted = Position.objects.filter(retired=False).counted()
        assert {p.pk for p in awake} == set(counted.values_list("pk", flat=True))
        loose = Component.objects.live().filter(fitted=None, place__part_of__isnull=False)
        assert not loose.filter(place__part_of__opened=False).exists()

    @stays_true
    def what_is_stored_of_a_place_is_what_the_rows_say(self):
        assert out_of_date({"locomotive": self.works.locomotive}) == []

    @stays_true
    def events_only_grow(self):
        now = list(Event.objects.values_list("pk", "action", "actor", "from_state", "to_state", "remark"))
        assert now[: len(getattr(self, "events", []))] == getattr(self, "events", [])
        self.events = now

    @stays_true
    def a_signed_record_stays_as_it_was_signed(self):
        now = {row["id"]: row for row in Examination.objects.values()}
        assert getattr(self, "signed", {}).items() <= now.items()
        self.signed = now

    @stays_true
    def a_safety_critical_piece_has_two_people_behind_it(self):
        found = Component.objects.filter(place__safety_critical=True, state__in=STANDING_ON_SIGNATURES)
        for piece in found.exclude(left_alone=True):
            passed = events_of(piece).filter(action__in=("accept", "pass")).latest("pk")
            signers = piece.examinations.filter(event__gt=piece.bared_event, event__lt=passed.pk)
            assert not events_of(piece).filter(action__in=WORK, actor=passed.actor).exists()
            assert signers.exists()
            assert passed.actor_id not in signers.values_list("signed_by", flat=True)
            if piece.state == State.REFITTED:
                refitted = events_of(piece).filter(action="refit").latest("pk")
                assert refitted.checker_id not in (None, refitted.actor_id)


LIKELY = {
    State.IN_PLACE: ("strip", "leave alone"),
    State.STRIPPED: ("clean", "break down", "change places", "withdraw"),
    State.CLEANED: ("accept", "break down", "offer up", "take off", "finish repair", "change places"),
    State.CRACK_CHECKED: ("accept", "accept", "change places", "offer up", "take off"),
    State.ACCEPTED: ("refit", "refit", "break down", "change places", "withdraw"),
    State.RENEWED: ("refit", "refit", "send back", "break down"),
    State.REFITTED: ("strip", "take off"),
    State.IN_THE_MAKING: ("pass", "pass", "withdraw"),
    State.WITHDRAWN: ("bring back",),
}


def test_no_sequence_of_actions_breaks_the_register(works):
    """Two of a kind to change places, a built-up piece, a lot, a matched pair, a safety-critical place, a fit."""
    axlebox, other = works.built_up(), works.built_up()
    works.piece(State.CLEANED, place=axlebox)
    works.piece(State.IN_PLACE, place=other)
    for place in (works.critical_place(), works.critical_place()):
        works.piece(State.CLEANED, place=place)
    works.piece(State.STRIPPED, place=works.plain_place(name="rivet", quantity=3))
    works.piece(State.ACCEPTED, place=works.critical_place(name="crank pin"))
    for name in ("strap", "rod end"):
        works.examined(works.plain_place(name=name, matched="big end"))
    pair = a_pair(works)
    works.measure(pair.axle, {pair.shaft: "124.96"})
    Register.works, Register.firm, Register.instrument = works, works.firm(), works.instrument()
    run_state_machine_as_test(
        Register,
        settings=settings(
            max_examples=5 if connection.vendor == "sqlite" else 1,  # PostgreSQL asks three times as long
            stateful_step_count=30,
            deadline=None,
            phases=[Phase.generate],  # a sequence that fails is told as it is: shortening it takes minutes
            suppress_health_check=list(HealthCheck),
        ),
    )
