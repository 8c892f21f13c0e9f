"""What must hold of readiness on any locomotive."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from parts.domain.needs import Standing, changes, standing, standing_today
from parts.domain.readiness import readiness, readiness_from_counts
from parts.domain.readiness_json import as_json
from parts.domain.rows import Dimension, Fit, Repair
from parts.domain.sequence import Order, OrderLoop
from parts.domain.tallies import counted
from parts.domain.words import Kind, State, Whereabouts
from tests.parts.domain.orders import branch, structures
from tests.parts.domain.plain_cases import ACTIONS
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY, crack_check, hold, piece, place, renewal


def numbers(counts):
    return counts.required, counts.refitted, counts.ready, counts.blocked


pieces = st.builds(
    piece,
    st.sampled_from(State),
    quantity=st.integers(1, 2),
    whereabouts=st.sampled_from([Whereabouts.WORKS, Whereabouts.WORKS, *Whereabouts]),
    on_trial=st.booleans(),
    left_alone=st.booleans(),
    look_again=st.sampled_from([None, YESTERDAY, TODAY, TOMORROW]),
    vouched_state=st.sampled_from([None, State.ACCEPTED, State.REFITTED]),
    vouched_event=st.sampled_from([5, 15, 25]),
    doubts=st.sampled_from([(), ("A certificate lapsed.",)]),
    repairs=st.sampled_from([(), (), (Repair(what="weld"),)]),
    dimensions=st.sampled_from(
        [
            (),
            (Dimension(name="bore", event=30, instrument="M3", calibrated_until=YESTERDAY),),
            (Dimension(name="bore", event=30, instrument="M3", calibrated_until=TODAY),),
            (Dimension(name="bore", event=30, instrument="M3"),),
            (Dimension(name="bore", event=30, outside=True, concession=True, conceded_until=TOMORROW),),
        ]
    ),
    examinations=st.sampled_from(
        [(), (crack_check(),), (crack_check(superseded=True),), (crack_check(result="defect"),)]
    ),
)

HOLDS = [
    (),
    (hold(*ACTIONS, released=True, expires=YESTERDAY),),
    (hold(*ACTIONS, released=True, expires=TOMORROW),),
    (hold(*ACTIONS, released=True, expires=date.max),),
]


@st.composite
def places_in(draw, subs, ordered_places):
    """Places of every sort among these subassemblies; those with an order of their own as the structure has them."""
    ids = [sub.id for sub in subs]
    own_orders = {row.id: row for row in ordered_places}
    wanted = [(row.id, row.subassembly) for row in ordered_places]
    wanted += [(1000 + n, draw(st.sampled_from(ids))) for n in range(draw(st.integers(0, 6)))]
    return [
        place(
            *draw(st.lists(pieces, max_size=2)),
            id=id,
            subassembly=subassembly,
            quantity=draw(st.integers(1, 3)),
            own_order=own_orders[id].after if id in own_orders else (),
            needed_first=own_orders[id].needed_first if id in own_orders else draw(st.booleans()),
            required=id in own_orders or draw(st.booleans()),
            asleep=draw(st.sampled_from([False, False, True])),
            known_empty=draw(st.booleans()),
            made_to_suit=draw(st.booleans()),
            safety_critical=draw(st.booleans()),
            calls_for=draw(st.sampled_from([(), (Kind.DIMENSIONAL,)])),
            renewal=draw(st.sampled_from([None, renewal()])),
            holds=draw(st.sampled_from(HOLDS)),
            fits=draw(
                st.sampled_from([(), (Fit(mate="axle", mate_settled=True, concession=True, conceded_until=TODAY),)])
            ),
        )
        for id, subassembly in wanted
    ]


@st.composite
def locomotives(draw):
    subs, ordered_places = draw(structures().filter(lambda structure: not _looped(structure)))
    return subs, Order(subs, ordered_places), draw(places_in(subs, ordered_places))


def _looped(structure):
    try:
        Order(*structure)
    except OrderLoop:
        return True
    return False


@given(locomotives())
def test_every_required_place_is_refitted_ready_or_blocked_with_a_need_and_clear_is_as_designed(locomotive):
    every_required_place_is_exactly_one_of_refitted_ready_or_blocked(*locomotive)
    what_blocks_has_a_need_and_a_sentence_and_what_does_not_is_fit_to_go_on(*locomotive)
    clear_and_complete_are_what_the_design_says_they_are(*locomotive)


def every_required_place_is_exactly_one_of_refitted_ready_or_blocked(subs, order, places):
    awake = [p for p in places if p.required and not p.asleep]
    for found in readiness(places, order, {}, TODAY).subassemblies:
        required, refitted, ready, blocked = numbers(found.own)
        assert refitted + ready + blocked == required
        assert required == sum(p.subassembly == found.sub.id for p in awake)
        below = branch(found.sub.id, subs)
        assert found.branch.required == sum(p.subassembly in below for p in awake)
        assert sum(found.needs.values()) == blocked


def what_blocks_has_a_need_and_a_sentence_and_what_does_not_is_fit_to_go_on(subs, order, places):
    for p in places:
        found = standing_today(p, TODAY)
        if found.status == "blocked":
            assert found.need
            assert found.reasons
        elif found.status == "ready":
            live = [x for x in p.pieces if x.state not in (State.WITHDRAWN, State.IN_THE_MAKING)]
            assert {x.state for x in live} <= {State.ACCEPTED, State.RENEWED, State.REFITTED}
            assert live or (p.made_to_suit and p.known_empty)
        elif found.status == "refitted":
            assert {x.state for x in p.pieces} & {State.REFITTED}


def clear_and_complete_are_what_the_design_says_they_are(subs, order, places):
    stood = {p.id: standing_today(p, TODAY) for p in places}
    for found in readiness(places, order, {}, TODAY).subassemblies:
        below = branch(found.sub.id, subs)
        stopped = {p.subassembly for p in places if stood[p.id].status == "blocked" and not p.own_order}
        waiting = any(wait.places for wait in found.waits)
        assert found.its_turn is not waiting
        assert found.own_clear is not (found.sub.id in stopped or waiting)
        assert found.clear_to_assemble is not (bool(stopped & set(below)) or waiting)
        counted_places = [p for p in places if p.subassembly in below and p.required and not p.asleep]
        sure = [
            s.status == "refitted" and not s.in_doubt and not s.on_trial for s in (stood[p.id] for p in counted_places)
        ]
        assert found.complete is all(sure)


def as_stored(place, today):
    """Its word and need on a day, from what is stored beside it alone."""
    found = standing(place)
    came = [(change.status, change.need) for change in changes(place) if change.on <= today]
    return came[-1] if came else (found.status, found.need)


@given(locomotives(), st.integers(-400, 400))
def test_what_is_stored_tells_every_day_how_a_place_stands_and_counts_come_to_the_same_as_rows(locomotive, days):
    what_is_stored_tells_every_day_how_a_place_stands(*locomotive, days)
    counts_and_rows_come_to_the_same(*locomotive)


def what_is_stored_tells_every_day_how_a_place_stands(subs, order, places, days):
    day = TODAY + timedelta(days)
    for p in places:
        shown = standing_today(p, day)
        assert as_stored(p, day) == (shown.status, shown.need)


def counts_and_rows_come_to_the_same(subs, order, places):
    """The pages count what is stored; places with an order of their own, and those that the calendar has changed, one
    by one. (Nothing on trial is ever refitted: the database refuses it.)"""
    places = [replace(p, pieces=tuple(replace(one, on_trial=False) for one in p.pieces)) for p in places]
    changed = [p for p in places if any(change.on <= TODAY for change in changes(p))]
    single = [p for p in places if p.own_order or p in changed]
    counts = [counted(p, standing(p)) for p in places] + [counted(p, standing(p), -1) for p in single]
    singles = [(p, Standing(*as_stored(p, TODAY))) for p in single]
    from_rows = readiness(places, order, {}, TODAY)
    from_counts = readiness_from_counts(counts, order, {}, TODAY, singles=singles, listed=places)
    assert as_json(from_counts) == as_json(from_rows)
    assert from_counts.subassemblies == from_rows.subassemblies
