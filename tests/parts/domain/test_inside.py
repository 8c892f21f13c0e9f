"""A built-up piece that was left whole owes the looks of the places inside it. Common practice, no source."""

from dataclasses import replace

import pytest

from parts.domain.exams_due import inside_told, is_whole_look, missing_exams
from parts.domain.needs import PlaceStatus, standing
from parts.domain.next_step import next_step
from parts.domain.rows import InnerPlace
from parts.domain.words import Kind, Method, Need, Result, State
from tests.parts.domain.plain_cases import codes, good_case, with_piece, with_place
from tests.parts.domain.plain_rows import TODAY, crack_check, piece, place, visual
from tests.tables import for_each

MT, PT, UT = Method.MAGNETIC_PARTICLE, Method.PENETRANT, Method.ULTRASONIC
PIN, AXLE, RING = (
    InnerPlace(words="crank pin, LH", crack_check=MT),
    InnerPlace(words="axle", crack_check=MT),
    InnerPlace(words="tyre retaining ring"),
)
OWN = crack_check(method=UT)


def wheelset(*exams, inside=(PIN,), **facts):
    """A wheelset that calls for an ultrasonic check of its own, which is signed."""
    whole = piece(**{"state": State.CRACK_CHECKED, "examinations": (OWN, *exams)} | facts)
    return place(
        whole, name="wheelset", words="wheelset, driving", crack_check=UT, inside=inside, inner=len(inside)
    ), whole


def reached(*words, **facts):
    return crack_check(**{"method": MT, "reached": frozenset(words)} | facts)


def shut(*words, **facts):
    return crack_check(**{"method": MT, "not_reached": frozenset(words)} | facts)


def told(*exams, **facts):
    return [(look.kind, look.code) for look in missing_exams(*wheelset(*exams, **facts))]


OWED, OUT_OF_REACH = [(Kind.CRACK_CHECK, "inside")], [(Kind.CRACK_CHECK, "inside shut")]


@for_each(
    ("exams", "codes_"),
    [
        ((), OWED),
        ((reached("crank pin, LH"),), []),
        ((reached("crank pin, RH"),), OWED),
        ((reached("crank pin, LH", method=PT),), OWED),  # its place names magnetic particle
        ((reached("crank pin, LH", method=UT),), OWED),  # not said to be out of reach of magnetic particle
        ((reached("crank pin, LH", signed=False),), OWED),
        ((reached("crank pin, LH", superseded=True),), OWED),
        ((reached("crank pin, LH", event=20),), OWED),  # before the last cleaning
        ((reached("crank pin, LH", stage="finished weld"),), OWED),
        ((shut("crank pin, LH"),), OUT_OF_REACH),
        ((shut("crank pin, LH", method=UT),), OWED),
        ((shut("crank pin, LH"), reached("crank pin, LH", method=UT)), []),
        ((shut("crank pin, LH"), reached("crank pin, LH")), []),
        ((visual(reached=frozenset({"crank pin, LH"})),), OWED),
    ],
)
def test_each_place_inside_is_reached_on_the_whole_piece_or_noted_and_reached_by_another_method(exams, codes_):
    assert told(*exams) == codes_


def test_what_a_look_inside_showed_is_decided_first():
    crack = reached("crank pin, LH", result=Result.INDICATION)
    assert told(crack) == [(Kind.CRACK_CHECK, "undecided")]
    assert told(replace(crack, decision="re-examine", decided_event=31)) == OWED
    assert told(replace(crack, decision="accept as it is", decided_event=31)) == []


@for_each(
    ("exams", "stands"),
    [
        ((), "not examined yet on the whole piece"),
        ((reached("crank pin, LH"),), "examined on the whole piece"),
        ((reached("crank pin, LH", event=20),), "not examined yet on the whole piece"),  # before the last cleaning
        ((shut("crank pin, LH"),), "out of reach on the whole piece"),
        ((shut("crank pin, LH"), reached("crank pin, LH", method=UT)), "examined on the whole piece"),
        ((reached("crank pin, LH", result=Result.INDICATION),), "what a look at it showed is not decided"),
    ],
)
def test_each_place_inside_is_told_as_the_records_of_the_whole_piece_leave_it(exams, stands):
    assert inside_told(*wheelset(*exams)) == {"crank pin, LH": stands}
    assert inside_told(*wheelset(*exams, broken_down=True)) == {}


def test_opened_up_its_places_count_by_themselves():
    assert told(broken_down=True) == []


def test_a_place_inside_that_calls_for_no_crack_check_is_looked_at():
    assert told(inside=(RING,)) == [(Kind.VISUAL, "inside")]
    assert told(visual(reached=frozenset({RING.words})), inside=(RING,)) == []
    assert told(reached(RING.words), inside=(RING,)) == []
    assert told(visual(not_reached=frozenset({RING.words})), inside=(RING,)) == [(Kind.VISUAL, "inside shut")]


def test_the_sentences_name_each_place_and_what_to_do():
    several = missing_exams(*wheelset(shut("axle"), inside=(PIN, AXLE)))
    assert [look.sentence for look in several] == [
        "Inside it and not checked for cracks: crank pin, LH. Say of each that it was reached, or that it is out of "
        "reach.",
        "Out of reach on the whole piece: axle. Check by another method that reaches there, such as ultrasonic from "
        "the end, or break the piece down.",
    ]


def test_a_works_word_stands_for_what_is_inside_too():
    assert told(state=State.ACCEPTED, vouched_state=State.ACCEPTED, vouched_event=25) == []


def test_what_is_noted_inside_leaves_the_look_a_whole_one():
    outer, _ = wheelset(inside=(AXLE,))
    assert is_whole_look(outer, crack_check(method=UT, not_reached=frozenset({"axle"})))
    assert not is_whole_look(outer, crack_check(method=UT, not_reached=frozenset({"journals"})))


# --- what follows: accept, refit, readiness, the next step


def test_it_is_not_accepted_before():
    case = with_place(good_case("accept", State.CRACK_CHECKED), inside=(PIN,))
    assert codes("accept", case) == ["look-missing"]
    done = with_piece(case, examinations=(*case.piece.examinations, reached(PIN.words)))
    assert codes("accept", done) == []


def test_nor_is_it_crack_checked_before():
    case = with_place(good_case("crack-check", State.CLEANED), inside=(PIN,))
    assert codes("crack-check", case) == ["look-missing"]


def test_what_was_accepted_without_it_is_not_refitted():
    assert codes("refit", with_place(good_case("refit", State.ACCEPTED), inside=(PIN,))) == ["in-doubt"]


@pytest.mark.parametrize("state", [State.ACCEPTED, State.REFITTED])
def test_accepted_or_refitted_whole_its_place_waits_for_the_look(state):
    found = standing(wheelset(state=state)[0])
    assert (found.need, found.in_doubt) == (Need.RECHECK, True)
    assert "crank pin, LH" in found.reasons[0]
    assert standing(wheelset(reached(PIN.words), state=state)[0]).status in (PlaceStatus.READY, PlaceStatus.REFITTED)


def test_the_next_step_is_the_crack_check_even_where_its_own_place_calls_for_none():
    whole = piece(State.CLEANED, examinations=(visual(),))
    step = next_step(place(whole, name="piston", crack_check="", inside=(PIN,)), whole, (), (), TODAY)
    assert (step.need, step.deed, step.kind) == (Need.CRACK_CHECK, "examine", Kind.CRACK_CHECK)
    assert "crank pin, LH" in step.sentence
