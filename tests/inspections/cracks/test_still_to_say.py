"""The bar of each step of a crack check: what is still to say before signing, in ten words at most."""

import re

import pytest

from parts.domain.words import State
from tests.as_shown import text_of
from tests.inspections.cracks.test_crack_check import MT, at, marks

WORDS = 10


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.critical_place(calls_for=[], material="steel"))


@pytest.fixture
def says(client, works, piece):
    client.force_login(works.people.examiner)

    def asked(*sent) -> str:
        entered = {name: value for one in sent for name, value in one.items()}
        page = client.post(at(piece), entered | {"do": "missing"}).content.decode()
        first, *others = [re.sub("<[^>]*>", "", line).strip() for line in re.findall("<p .*?</p>", page)]
        assert others == [first] * 3, "the steps do not say the same"
        assert len(first.split()) <= WORDS
        assert not piece.examinations.exists()
        return first

    return asked


def without(*names) -> dict:
    return {name: value for name, value in MT.items() if name not in names}


def test_it_stands_on_the_page_before_anything_is_typed(client, works, piece):
    client.force_login(works.people.examiner)
    page = text_of(client.get(at(piece)))
    assert page.count("Before signing: procedure, technique, equipment and 6 more.") == 4


def test_it_names_what_is_missing_in_the_order_of_the_steps(says):
    assert says(without("result")) == "Before signing: result."
    assert says(without("result", "procedure", "demagnetised")) == "Before signing: procedure, demagnetising, result."


def test_what_is_questioned_asks_for_a_reason(says):
    assert says(MT | {"light_lux": "300"}) == "Before signing: reason for light."
    assert says(MT | {"light_lux": "300", "reason-light-low": "the engineer agreed"}) == "Nothing is missing: sound."


def test_a_surface_left_out_does_not_sound_better_than_it_is(says):
    left = without("reached-1")
    assert says(left) == "Before signing: reason for surfaces."
    assert says(left | {"reason-surface-missed": "tyre"}) == "Nothing is missing: sound where it was reached."


def test_a_mark_without_its_length_is_named(says):
    assert says(MT, marks({"where": "web"})) == "Before signing: mark 1."


def test_marks_are_indications_whatever_the_result_says(says):
    assert says(MT, marks({"where": "web", "length": "5"})) == "Nothing is missing: 1 indication marked."
    assert says(MT | {"result": "indication", "found": "a line"}) == "Nothing is missing: an indication."


def test_it_leads_to_the_first_that_is_missing(client, works, piece):
    client.force_login(works.people.examiner)
    page = client.post(at(piece), MT | {"light_lux": "", "result": "", "do": "missing"}).content.decode()
    assert 'href="#id_reason-light-missing"' in page or 'href="#id_light_lux"' in page


def test_wherever_it_leads_there_is_a_field_on_the_page_as_it_was_opened(client, works, piece):
    client.force_login(works.people.examiner)
    opened = client.get(at(piece)).content.decode()
    weld = {"level": "ISO 23278 level 2"}
    wrongs = [{name: ""} for name in MT] + [{"light_lux": "300"}, {"demagnetised": "no"}, {"directions": "x"}, weld]
    wrongs += [{"two_directions": "", "directions": "30"}]
    for wrong in wrongs:
        page = client.post(at(piece), MT | wrong | {"do": "missing"}).content.decode()
        for field in set(re.findall('href="#(.*?)"', page)):
            assert f'id="{field}"' in opened, f"{wrong} leads to {field}"


def test_the_room_for_the_reason_stands_beside_the_surfaces_from_the_first(client, works, piece):
    client.force_login(works.people.examiner)
    assert 'name="reason-surface-missed"' in client.get(at(piece)).content.decode()
    page = client.post(at(piece), without("reached-1") | {"do": "missing"}).content.decode()
    assert 'href="#id_reason-surface-missed"' in page


def test_after_a_step_without_scripts_it_is_true_of_what_is_shown(client, works, piece):
    client.force_login(works.people.examiner)
    added = text_of(client.post(at(piece), MT | marks({"where": "web", "length": "5"}) | {"do": "out:1"}))
    assert "Nothing is missing: sound." in added
    added = text_of(client.post(at(piece), MT | {"do": "add"}))
    assert "Nothing is missing: sound." in added, "a mark that says nothing is left out"
