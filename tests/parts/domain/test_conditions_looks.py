"""Conditions about what was looked at, what was found, and by whom. Each both ways. "After" is a later event number."""

from dataclasses import replace

import pytest

from parts.domain.rows import Repair
from parts.domain.words import Kind, Method, Result, State
from tests.parts.domain.plain_cases import ENGINEER, EXAMINER, codes, good_case, refusals, with_piece, with_place
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY, crack_check, size, visual

FOUND_GOOD = [("accept", State.CRACK_CHECKED), ("pass", State.IN_THE_MAKING)]
"""Passing a new piece needs everything that accepting needs."""
accepting = pytest.mark.parametrize(("action", "state"), FOUND_GOOD)


def looked_at(case, *examinations, **facts):
    return with_piece(case, examinations=examinations, **facts)


# --- crack-checked: every crack check called for, signed after the last work and cleaning, the surfaces reached


def checking(*examinations, **of_place):
    return looked_at(with_place(good_case("crack-check", State.CLEANED), **of_place), *examinations)


@pytest.mark.parametrize(
    ("check", "told"),
    [
        (crack_check(event=21), []),
        (crack_check(event=20), ["look-missing"]),  # the cleaning itself was event 20
        (crack_check(event=15), ["look-missing"]),
        (crack_check(signed=False), ["look-missing"]),
        (crack_check(superseded=True), ["look-missing"]),
        (visual(), ["look-missing"]),
    ],
)
def test_a_crack_check_counts_when_signed_after_the_last_cleaning(check, told):
    assert codes("crack-check", checking(check)) == told


@pytest.mark.parametrize(("bared", "told"), [(29, []), (30, ["look-missing"]), (31, ["look-missing"])])
def test_it_counts_when_signed_after_the_last_welding_heating_straightening_machining_or_pressing(bared, told):
    assert codes("crack-check", with_piece(checking(crack_check()), bared_event=bared)) == told


@pytest.mark.parametrize(
    ("called_for", "told"), [(Method.PENETRANT, []), (Method.ANY, []), (Method.MAGNETIC_PARTICLE, ["look-missing"])]
)
def test_a_place_that_calls_for_a_method_wants_that_one(called_for, told):
    assert codes("crack-check", checking(crack_check(method=Method.PENETRANT), crack_check=called_for)) == told


@pytest.mark.parametrize(
    ("reached", "told"), [({"journal", "wheel seat"}, []), ({"journal"}, ["look-missing"]), (set(), ["look-missing"])]
)
def test_a_required_surface_not_reached_is_not_examined(reached, told):
    case = checking(crack_check(reached=frozenset(reached)), surfaces=frozenset({"journal", "wheel seat"}))
    assert codes("crack-check", case) == told


@pytest.mark.parametrize("examinations", [(), (visual(),), (crack_check(),)])
def test_where_no_crack_check_is_called_for_a_piece_is_never_called_crack_checked(examinations):
    assert codes("crack-check", checking(*examinations, crack_check="")) == ["no-crack-check"]


def test_every_crack_check_is_enough_to_be_crack_checked_whatever_else_the_place_calls_for():
    more = {"calls_for": (Kind.CRACK_CHECK, Kind.VISUAL, Kind.DIMENSIONAL), "crack_check": ""}
    assert codes("crack-check", checking(crack_check(), **more)) == []
    assert codes("crack-check", checking(visual(), **more)) == ["look-missing"]


# --- accepted from cleaned: only where no crack check is called for, and examined as the place calls for


def test_a_cleaned_piece_is_accepted_once_it_is_examined_where_no_crack_check_is_called_for():
    case = good_case("accept", State.CLEANED)
    assert codes("accept", case) == []
    assert codes("accept", looked_at(case)) == ["look-missing"]
    assert codes("accept", with_place(case, calls_for=(Kind.HYDRAULIC_TEST,))) == ["look-missing"]


@pytest.mark.parametrize("called_for", [{"crack_check": Method.ANY}, {"calls_for": (Kind.CRACK_CHECK,)}])
def test_a_cleaned_piece_whose_place_calls_for_a_crack_check_is_crack_checked_first(called_for):
    case = with_place(good_case("accept", State.CLEANED), **called_for)
    refusal = refusals("accept", case)[0]
    assert refusal.sentence == "Its place calls for a crack check."
    assert refusal.cure == "Have it crack-checked and signed first."
    assert codes("accept", case) == ["not-crack-checked", "look-missing"]
    assert codes("accept", looked_at(case, crack_check())) == ["not-crack-checked"]


def test_sizes_may_still_be_wanting_when_a_piece_is_crack_checked_but_not_when_it_is_accepted():
    unmeasured = {"dimensions": (size(event=0),)}
    assert codes("crack-check", with_piece(checking(crack_check()), **unmeasured)) == []
    accept = good_case("accept", State.CRACK_CHECKED)
    assert "look-missing" in codes("accept", with_piece(accept, **unmeasured))
    assert codes("accept", with_piece(accept, dimensions=(size(),))) == []


# --- found good


@accepting
def test_every_examination_called_for_is_no_older_than_the_last_work(action, state):
    case = with_piece(good_case(action, state), dimensions=(size(event=12),))
    old = looked_at(case, crack_check(event=30), bared_event=15)
    assert codes(action, old) == ["look-missing"]
    assert codes(action, replace(old, piece=replace(old.piece, bared_event=11))) == []


@accepting
def test_every_dimension_called_for_is_measured(action, state):
    case = good_case(action, state)
    assert codes(action, with_piece(case, dimensions=(size(),))) == []
    assert "not-measured" in codes(action, with_piece(case, dimensions=(size(event=0),)))
    assert "look-missing" in codes(action, with_piece(case, dimensions=(size(event=10),)))  # the last work was event 10


@accepting
@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({}, set()),
        ({"outside": True}, {"limit", "undecided"}),
        ({"outside": True, "concession": True}, set()),
        ({"outside": True, "beyond_scrapping": True}, {"scrapping", "undecided"}),
        # A concession is never beyond the scrapping limit.
        ({"outside": True, "beyond_scrapping": True, "concession": True}, {"scrapping", "undecided"}),
    ],
)
def test_every_dimension_is_within_its_shop_limit_or_under_a_concession(action, state, facts, told):
    assert set(codes(action, with_piece(good_case(action, state), dimensions=(size(**facts),)))) == told


SHOWN = {"result": Result.INDICATION, "text": "crack, 12 mm, in the fillet"}


@accepting
@pytest.mark.parametrize("decision", ["", "repair", "renew", "re-examine"])
def test_no_indication_is_undecided_or_decided_but_not_acted_on(action, state, decision):
    assert codes(action, looked_at(good_case(action, state), crack_check(**SHOWN, decision=decision)))


@accepting
def test_an_indication_accepted_as_it_is_stands_in_nobodys_way(action, state):
    shown = crack_check(**SHOWN, decision="accept as it is", decided_event=31)
    assert codes(action, looked_at(good_case(action, state), shown)) == []


@accepting
def test_a_crack_in_a_safety_critical_piece_is_never_accepted_as_it_is(action, state):
    shown = crack_check(**SHOWN, decision="accept as it is", decided_event=31)
    cracked = looked_at(with_place(good_case(action, state), safety_critical=True), shown, cracked=True)
    assert codes(action, cracked) == ["cracked"]


@accepting
def test_no_repair_is_open(action, state):
    case = with_piece(good_case(action, state), repairs=(Repair(what="build up the journal"),))
    assert codes(action, case) == ["repair-open"]


@pytest.mark.parametrize("decision", ["", "repair", "renew", "re-examine"])
def test_what_was_found_after_it_was_accepted_keeps_it_from_being_refitted(decision):
    found = looked_at(good_case("refit", State.ACCEPTED), crack_check(**SHOWN, decision=decision))
    assert "undecided" in codes("refit", found)


def test_neither_a_cracked_piece_nor_one_under_repair_is_refitted():
    good = good_case("refit", State.ACCEPTED)
    assert codes("refit", good) == []
    assert "cracked" in codes("refit", with_piece(with_place(good, safety_critical=True), cracked=True))
    assert "repair-open" in codes("refit", with_piece(good, repairs=(Repair(what="build up the journal"),)))


def test_a_new_piece_has_the_material_papers_its_place_calls_for():
    case = with_place(good_case("pass", State.IN_THE_MAKING), material_papers=True)
    assert codes("pass", case) == ["papers"]
    assert codes("pass", with_piece(case, papers=True)) == []


# --- independence: it looks at the person, never at the role


@accepting
def test_the_acceptor_of_a_safety_critical_piece_did_no_work_on_it(action, state):
    case = with_place(good_case(action, state), safety_critical=True)
    assert codes(action, with_piece(case, workers=frozenset({2, 3}))) == []
    assert codes(action, with_piece(case, workers=frozenset({2, ENGINEER}))) == ["own-work"]


@accepting
def test_and_signed_none_of_the_examinations_relied_on(action, state):
    case = with_place(good_case(action, state), safety_critical=True)
    assert codes(action, looked_at(case, crack_check(by=EXAMINER))) == []
    assert codes(action, looked_at(case, crack_check(by=ENGINEER))) == ["own-record"]


@accepting
def test_a_record_from_before_the_last_work_is_not_relied_on(action, state):
    case = with_place(good_case(action, state), safety_critical=True)
    assert codes(action, looked_at(case, crack_check(by=ENGINEER, event=5), crack_check())) == []


@accepting
def test_on_other_pieces_one_engineer_may_do_both(action, state):
    case = looked_at(good_case(action, state), crack_check(by=ENGINEER), workers=frozenset({ENGINEER}))
    assert codes(action, case) == []


# --- what a works vouched for


def vouched(**facts):
    return with_piece(good_case("refit", State.ACCEPTED), vouched_state=State.ACCEPTED, vouched_event=30, **facts)


@pytest.mark.parametrize("kind", ["safety_critical", "pressure_part"])
def test_a_works_word_alone_is_not_enough_for_what_can_hurt_someone(kind):
    assert codes("refit", with_place(vouched(examinations=()), **{kind: True})) == ["unconfirmed"]
    assert codes("refit", with_place(vouched(examinations=(), confirmed=True), **{kind: True})) == []
    assert codes("refit", vouched(examinations=())) == []


def test_a_name_is_put_only_to_what_was_vouched_for_and_waits_for_one():
    case = good_case("confirm", State.ACCEPTED)
    assert codes("confirm", case) == []
    assert codes("confirm", with_piece(case, confirmed=True)) == ["not-vouched"]
    assert codes("confirm", with_piece(case, vouched_state=None)) == ["not-vouched"]
    assert codes("confirm", with_piece(case, bared_event=40)) == ["not-vouched"]


def test_whoever_worked_on_a_safety_critical_piece_puts_no_name_to_it():
    case = with_place(good_case("confirm", State.ACCEPTED), safety_critical=True)
    assert codes("confirm", with_piece(case, workers=frozenset({ENGINEER}))) == ["own-work"]


# --- in doubt


@pytest.mark.parametrize(("look_again", "told"), [(YESTERDAY, ["in-doubt"]), (TODAY, ["in-doubt"]), (TOMORROW, [])])
def test_a_piece_whose_look_again_date_has_come_is_not_refitted_until_a_signed_look_finds_it_sound(look_again, told):
    case = with_piece(good_case("refit", State.ACCEPTED), look_again=look_again)
    assert codes("refit", case) == told
    assert codes("refit", looked_at(case, crack_check(on=TODAY))) == []


def test_a_piece_whose_record_was_superseded_or_whose_instrument_lapsed_is_not_refitted():
    case = good_case("refit", State.ACCEPTED)
    assert codes("refit", looked_at(case, crack_check(superseded=True))) == ["in-doubt"]
    assert codes("refit", with_piece(case, doubts=("The micrometer was out of calibration.",))) == ["in-doubt"]


def test_what_a_record_showed_is_for_the_engineer_to_decide_not_for_another_record():
    shown = crack_check(result=Result.INDICATION, text="11 mm at the oil hole")
    case = looked_at(good_case("crack-check", State.CLEANED), shown)
    case = with_place(case, crack_check=Method.ANY)
    cures = [refusal.cure for refusal in refusals("crack-check", case)]
    assert cures == ["The responsible engineer decides what was found."]


@pytest.mark.parametrize("decision", ["", "repair", "renew", "withdraw", "re-examine"])
def test_what_was_found_is_dealt_with_before_a_piece_is_marked_crack_checked(decision):
    good = good_case("crack-check", State.CLEANED)
    assert codes("crack-check", good) == []
    assert codes("crack-check", looked_at(good, crack_check(**SHOWN, decision=decision, decided_event=31)))
    assert codes("crack-check", with_piece(good, repairs=(Repair(what="weld it"),))) == ["repair-open"]
    accepted = crack_check(**SHOWN, decision="accept as it is", decided_event=31)
    assert codes("crack-check", looked_at(good, accepted)) == []
