"""What may be accepted in a group, and what drops out of it; no database."""

from dataclasses import replace

import pytest

from core.roles import Role
from parts.domain.grouping import as_if_looked_at
from parts.domain.rows import Dimension, Hold, Provisional, Repair
from parts.domain.words import Kind, Method, Result, State
from tests.parts.domain.plain_cases import codes, good_case, somebody, with_form, with_piece, with_place
from tests.parts.domain.plain_rows import TODAY, visual

GROUP = "accept in group"


def case(role=Role.FITTER, **facts):
    return good_case(GROUP, State.CLEANED, role, **facts)


@pytest.mark.parametrize("role", [Role.FITTER, Role.EXAMINER, Role.RESPONSIBLE_ENGINEER])
def test_an_ordinary_piece_that_was_looked_at_goes_into_the_group(role):
    assert codes(GROUP, case(role)) == []


def test_only_by_somebody_whom_the_engineer_authorised():
    not_authorised = replace(somebody(Role.FITTER), authorised=frozenset({"visual"}))
    assert codes(GROUP, case(actor=not_authorised)) == ["not-authorised"]
    engineer = replace(somebody(Role.RESPONSIBLE_ENGINEER), authorised=frozenset())
    assert codes(GROUP, case(actor=engineer)) == []


@pytest.mark.parametrize(
    "place",
    [{"safety_critical": True}, {"pressure_part": True}, {"inner": 1, "inner_critical": True}],
    ids=lambda place: next(iter(place)),
)
def test_what_can_hurt_somebody_is_accepted_by_itself(place):
    assert codes(GROUP, with_place(case(), **place)) == ["not-ordinary"]


def test_an_ordinary_piece_whose_crack_check_is_called_for_goes_in_once_that_is_signed():
    assert codes(GROUP, good_case(GROUP, State.CRACK_CHECKED, Role.FITTER)) == []
    assert codes(GROUP, with_place(case(), crack_check=Method.ANY)) == ["not-crack-checked", "look-missing"]


def test_whoever_worked_on_it_does_not_accept_it():
    mine = case()
    assert codes(GROUP, with_piece(mine, workers=frozenset({mine.actor.id}))) == ["own-work"]
    assert codes(GROUP, with_piece(mine, workers=frozenset({mine.actor.id + 1}))) == []


HELD = Hold(name="survey", stops=frozenset({"accept"}), body="the owner")
DROPS_OUT = {
    "a figure due": ({"dimensions": (Dimension(name="bore"),)}, ["look-missing", "not-measured"]),
    "a repair": ({"repairs": (Repair(what="bush it"),)}, ["repair-open"]),
    "a finding": ({"examinations": (visual(result=Result.DEFECT),)}, ["undecided"]),
    "a doubt": ({"doubts": ("Its paper lapsed.",)}, ["in-doubt"]),
    "a crack": ({"cracked": True}, ["cracked"]),
    "a note": ({"provisional": Provisional(outcome="renew", by="Somebody", reason="thin")}, ["provisional"]),
}


@pytest.mark.parametrize("why", DROPS_OUT)
def test_a_row_with_something_open_drops_out_and_says_why(why):
    facts, expected = DROPS_OUT[why]
    assert codes(GROUP, with_piece(case(), **facts)) == expected


def test_a_hold_point_that_stops_accepting_stops_it_too():
    assert codes(GROUP, replace(case(), holds=(HELD,))) == ["hold"]


def test_another_look_that_is_due_is_a_record_of_its_own():
    gauge = with_place(with_piece(case(), examinations=()), calls_for=(Kind.CALIBRATION,))
    assert codes(GROUP, gauge) == ["look-missing"]
    assert codes(GROUP, as_if_looked_at(gauge)) == ["look-missing"]


def test_the_look_itself_is_what_the_signature_brings():
    unseen = with_piece(case(), examinations=())
    assert codes(GROUP, unseen) == ["look-missing"]
    assert codes(GROUP, as_if_looked_at(unseen)) == []


def test_how_the_pieces_are_kept_is_said_for_all():
    assert codes(GROUP, with_form(case(), protection="", look_again=TODAY)) == ["protection", "look-again"]
