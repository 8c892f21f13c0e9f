"""What sets most free, on a small locomotive worked by hand; what a heap clears agrees with the what-if of it alone."""

from hypothesis import given
from hypothesis import strategies as st

from parts.domain.leeway import leeway
from parts.domain.needs import standing_today
from parts.domain.ranking import REFIT
from parts.domain.readiness import readiness
from parts.domain.sequence import Order, Sub
from parts.domain.setting_free import heaps, in_words, what_if
from parts.domain.tallies import counted
from parts.domain.words import Need, State
from tests.parts.domain.plain_rows import TODAY, hold, piece, place
from tests.parts.domain.workshops import job, workshop

FRAMES, SPRINGS, WHEELS, MOTION = 1, 2, 3, 4
ENGINE = (
    Sub(FRAMES, "frames", "Frames"),
    Sub(SPRINGS, "spring-gear", "Spring gear", parent=FRAMES),
    Sub(WHEELS, "wheelsets", "Wheelsets", after=(FRAMES,)),
    Sub(MOTION, "motion", "Motion", after=(WHEELS,)),
)


def stands(*rows, holds=None):
    """Readiness of places given as (subassembly, state), and their counts."""
    places = [place(piece(state), subassembly=sub, id=n) for n, (sub, state) in enumerate(rows, 1)]
    found = readiness(places, Order(ENGINE), holds or {}, TODAY)
    return found, [counted(each, standing_today(each, TODAY)) for each in places], holds or {}


def told(found, counts, days=None):
    return [(found.order.by_id[h.subassembly].code, h.need, h.number, h.clears) for h in heaps(found, counts, [], days)]


def test_what_clears_most_comes_first():
    """Two to clean in the frames, one in the springs: only the springs' own clears anything by itself."""
    rows = [(FRAMES, State.STRIPPED), (FRAMES, State.STRIPPED), (SPRINGS, State.STRIPPED), (WHEELS, State.STRIPPED)]
    found, counts, holds = stands(*rows)
    assert told(found, counts) == [
        ("spring-gear", Need.CLEAN, 1, (SPRINGS,)),
        ("frames", Need.CLEAN, 2, ()),
        ("wheelsets", Need.CLEAN, 1, ()),
    ]
    change = what_if(found, counts, [], holds, {(FRAMES, Need.CLEAN), (SPRINGS, Need.CLEAN)})
    assert (change.places, change.clear) == (3, (FRAMES, SPRINGS))
    assert in_words(change, found, [Need.CLEAN, Need.CLEAN]) == (
        "If these 3 are cleaned and nothing more is found, "
        "2 subassemblies become clear to assemble: Frames, Spring gear."
    )


def test_refitting_the_last_of_what_goes_first_clears_what_waits_for_it():
    found, counts, holds = stands((FRAMES, State.ACCEPTED), (WHEELS, State.ACCEPTED))
    assert told(found, counts)[0] == ("frames", REFIT, 1, (WHEELS,))
    assert what_if(found, counts, [], holds, {(FRAMES, REFIT)}).clear == (WHEELS,)


def test_a_hold_point_lets_nothing_be_cleared():
    found, counts, _ = stands((SPRINGS, State.STRIPPED), holds={FRAMES: (hold("assemble"),)})
    assert told(found, counts) == [("spring-gear", Need.CLEAN, 1, ())]
    assert "no further subassembly becomes clear" in in_words(
        what_if(found, counts, [], {FRAMES: (hold("assemble"),)}, {(SPRINGS, Need.CLEAN)}), found, [Need.CLEAN]
    )


def test_what_can_wait_least_comes_first_among_equals():
    rows = [(MOTION, State.STRIPPED), (MOTION, State.STRIPPED), (MOTION, State.CLEANED)]
    found, counts, _ = stands(*rows)
    assert [need for _, need, *_ in told(found, counts, {"motion": 3})] == [Need.CLEAN, Need.CRACK_CHECK]


SOME = st.sampled_from([State.STRIPPED, State.CLEANED, State.ACCEPTED, State.REFITTED])


@given(st.lists(st.tuples(st.sampled_from([1, 2, 3, 4]), SOME), max_size=12), st.booleans())
def test_a_heap_clears_what_readiness_says_anew(rows, held):
    holds = {SPRINGS: (hold("assemble"),)} if held else {}
    found, counts, _ = stands(*rows, holds=holds)
    for heap in heaps(found, counts, []):
        change = what_if(found, counts, [], holds, {(heap.subassembly, heap.need)})
        assert set(change.clear) == set(heap.clears), heap
        assert change.places == heap.number


def test_leeway_of_a_network_worked_by_hand():
    """A takes 3 days of 100 minutes, B after it 2; C alone takes 1 and may wait 4, B and A none."""
    work = [job("a", 300, subassembly="A"), job("b", 200, ["a"], subassembly="B"), job("c", 100, subassembly="C")]
    assert leeway(workshop(*work)) == {"A": 0, "B": 0, "C": 4}
    assert leeway(workshop(job("a", None))) == {}
