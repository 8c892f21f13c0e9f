"""What must hold of readiness on any locomotive."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from parts.domain.needs import standing, standing_today
from parts.domain.readiness import as_json, readiness, readiness_from_counts
from parts.domain.rows import Repair
from parts.domain.sequence import Order, OrderLoop
from parts.domain.tallies import counted
from parts.domain.words import Kind, State, Whereabouts
from tests.parts.domain.orders import branch, structures
from tests.parts.domain.plain_cases import ACTIONS
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY, crack_check, hold, piece, place, renewal


def numbers(four):
    return four.required, four.refitted, four.ready, four.blocked


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
    examinations=st.sampled_from(
        [(), (crack_check(),), (crack_check(superseded=True),), (crack_check(result="defect"),)]
    ),
)


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
            holds=draw(st.sampled_from([(), (hold(*ACTIONS, released=True, expires=YESTERDAY),)])),
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
def test_every_required_place_is_exactly_one_of_refitted_ready_or_blocked(locomotive):
    subs, order, places = locomotive
    awake = [p for p in places if p.required and not p.asleep]
    for found in readiness(places, order, {}, TODAY).subassemblies:
        required, refitted, ready, blocked = numbers(found.own)
        assert refitted + ready + blocked == required
        assert required == sum(p.subassembly == found.sub.id for p in awake)
        below = branch(found.sub.id, subs)
        assert found.branch.required == sum(p.subassembly in below for p in awake)
        assert sum(found.needs.values()) == blocked


@given(locomotives())
def test_what_blocks_has_a_need_and_a_sentence_and_what_does_not_is_fit_to_go_on(locomotive):
    _, _, places = locomotive
    for p in places:
        found = standing_today(p, TODAY)
        if found.word == "blocked":
            assert found.need
            assert found.reasons
        elif found.word == "ready":
            live = [x for x in p.pieces if x.state not in (State.WITHDRAWN, State.IN_THE_MAKING)]
            assert {x.state for x in live} <= {State.ACCEPTED, State.RENEWED, State.REFITTED}
            assert live or (p.made_to_suit and p.known_empty)
        elif found.word == "refitted":
            assert {x.state for x in p.pieces} & {State.REFITTED}


@given(locomotives())
def test_clear_and_complete_are_what_the_design_says_they_are(locomotive):
    subs, order, places = locomotive
    stood = {p.id: standing_today(p, TODAY) for p in places}
    for found in readiness(places, order, {}, TODAY).subassemblies:
        own = [p for p in places if p.subassembly == found.sub.id]
        stopped = any(stood[p.id].word == "blocked" and not p.own_order for p in own)
        waiting = any(wait.places for wait in found.waits)
        assert found.clear_to_assemble is not (stopped or waiting)
        below = branch(found.sub.id, subs)
        counted_places = [p for p in places if p.subassembly in below and p.required and not p.asleep]
        sure = [
            s.word == "refitted" and not s.in_doubt and not s.on_trial for s in (stood[p.id] for p in counted_places)
        ]
        assert found.complete is all(sure)


@given(locomotives())
def test_counts_and_rows_come_to_the_same(locomotive):
    """The overview counts what is stored, and judges anew only ordered places and those the calendar may have moved."""
    _, order, places = locomotive
    stored = {p.id: standing(p) for p in places}
    apart = [p for p in places if p.own_order or standing_today(p, TODAY) != stored[p.id]]
    kept = [p for p in places if p not in apart]
    counts = [counted(p, stored[p.id]) for p in places] + [counted(p, stored[p.id], -1) for p in apart]
    trials = [p for p in kept if stored[p.id].on_trial and stored[p.id].word == "refitted"]
    counts += [counted(p, stored[p.id], -1) for p in trials]
    from_rows = readiness(places, order, {}, TODAY)
    from_counts = readiness_from_counts(counts, order, {}, TODAY, apart=apart + trials, listed=kept)
    assert as_json(from_counts) == as_json(from_rows)
    assert from_counts.subassemblies == from_rows.subassemblies


@given(locomotives())
def test_late_places_may_be_counted_by_what_is_stored_of_them(locomotive):
    """The overview counts a ordered place that no date has moved by its stored standing, and says no more of it."""
    _, order, places = locomotive
    stored = {p.id: standing(p) for p in places}
    moved = [p for p in places if standing_today(p, TODAY) != stored[p.id] or stored[p.id].on_trial]
    ordered = [p for p in places if p.own_order and p not in moved]
    counts = [counted(p, stored[p.id]) for p in places] + [counted(p, stored[p.id], -1) for p in moved + ordered]
    settled = [(p, stored[p.id]) for p in ordered]
    from_rows = readiness(places, order, {}, TODAY)
    from_counts = readiness_from_counts(counts, order, {}, TODAY, apart=moved, settled=settled)
    for one, other in zip(from_counts.subassemblies, from_rows.subassemblies, strict=True):
        assert replace(one, blockers=()) == replace(other, blockers=())
