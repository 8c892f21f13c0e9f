"""How a piece is held: what its events say, and what is refused. Invented cases."""

from dataclasses import replace

import pytest

from parts.domain.fastening import BuiltFigure, Fastening, built_has_a_unit, fastening, torque_has_a_unit
from parts.domain.words import State
from tests.parts.domain.plain_cases import FORM, good_case, refusals, with_form


def test_what_is_said_later_is_put_to_what_was_said_at_refitting():
    found = fastening([("refit", {"tightened": "120 lbf ft"}), ("lock", {"locked": "split pin"})])
    assert found == Fastening(tightened="120 lbf ft", locked="split pin")


def test_a_further_refitting_begins_anew():
    found = fastening([("refit", {"locked": "split pin", "shims": "one, 0.5 mm"}), ("refit", {"tightened": "160 N m"})])
    assert (found.locked, found.shims, found.tightened) == ("", "", "160 N m")


def test_nothing_said_is_nothing_known():
    assert fastening([]).in_words() == ""


def test_only_the_figure_that_the_engineer_let_stand_stands():
    slack = BuiltFigure(key="fit_1", name="Clearance", typed="0.022 in", verdict="Beyond the shop limit", outside=True)
    refitted, passed = {"measured": [slack.data]}, {"passed_over": [f"{slack.words}."]}
    assert not fastening([("refit", refitted)]).lets_stand(slack)
    found = fastening([("refit", refitted), ("lock", passed)])
    assert found.lets_stand(slack)
    assert not found.lets_stand(replace(slack, typed="0.024 in"))
    assert not found.lets_stand(replace(slack, verdict="Beyond the scrapping limit"))
    assert not found.lets_stand(replace(slack, final=True))
    tighter = replace(slack, typed="0.018 in", verdict="Within the shop limit", outside=False)
    put_right = fastening([("refit", refitted), ("lock", passed), ("lock", {"measured": [tighter.data]})])
    assert not put_right.lets_stand(slack)  # the same again is worn again


@pytest.mark.parametrize("words", ["120", "1/6", " 0.5 "])
def test_a_bare_number_is_no_torque(words):
    case = good_case("lock", State.REFITTED)
    entered = replace(FORM, more={"locked": "split pin", "tightened": words})
    (refusal,) = refusals("lock", replace(case, given=entered))
    assert "has no unit" in refusal.sentence


@pytest.mark.parametrize("words", ["", "120 lbf ft", "160 N m", "a sixth of a turn past hand tight"])
def test_a_torque_with_its_unit_or_words_will_do(words):
    case = with_form(good_case("refit", State.ACCEPTED), more={"tightened": words})
    assert torque_has_a_unit(case) is None


@pytest.mark.parametrize(("words", "bare"), [
    ("", ""),
    ("end float 1/32 in, both sides alike", ""),
    ("0.15 mm at the crown; back to back 53 5/8 in", ""),
    ("12 thou", ""),
    ("end float 1½ mm, ⅛ in at the keep, back to back 53 5\u20448 in", ""),
    ("end float 1½", "1½"),
    ("end float ½", "½"),
    ("axle 2, box No. 12: 0.1 mm", ""),
    ("back to back 4 ft 5 5/8 in, or 1.36 m; 4'-5 5/8\"", ""),
    ("0,15 mm, 3 to 5 thou, 0.12 ± 0.02 mm, eccentric turned 5 deg", ""),
    ("3 to 5", "3 to 5"),
    ("end float 12", "12"),
    ("end float 1/32", "1/32"),
    ("0.15 mm and 0.2 at the keep", "0.2"),
])  # fmt: skip
def test_each_figure_measured_as_built_bears_its_unit(words, bare):
    refusal = built_has_a_unit(with_form(good_case("lock", State.REFITTED), more={"built": words}))
    assert (refusal.sentence if refusal else "") == (f"Measured as built: “{bare}” has no unit." if bare else "")
