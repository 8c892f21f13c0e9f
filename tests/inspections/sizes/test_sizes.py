"""The sizes of a place on screen: read by all, set by the responsible engineer, every edition kept."""

from fractions import Fraction

import pytest
from django.urls import reverse

from inspections.models import Dimension
from parts.domain.words import State
from tests.tables import for_each

ADD = {
    "name": "journal diameter", "unit": "in", "wears": "smaller", "letter": "A", "round_part": "on",
    "stations": "inner end\nouter end", "directions": "vertical\nhorizontal", "rule": "guarded",
    "drawing": "5 in +0.000 -0.002", "shop": "4 7/8", "scrapping": "4 3/4", "source": "invented sheet",
    "source_edition": "3",
}  # fmt: skip


@pytest.fixture
def place(works):
    return works.place(name="axle", axle="leading")


@pytest.fixture
def size(works, place):
    return works.dimension(place)


def at(name, thing):
    return reverse(name, args=[thing.pk])


def test_everybody_reads_the_limits_with_source_and_edition(client, people, place, size):
    client.force_login(people.volunteer)
    text = client.get(at("sizes", place)).content.decode()
    for words in ("Journal diameter", "at least 123 mm (about 4.8425 in)", "invented sheet, 1", "125 +0 -0.05"):
        assert words in text
    assert "Add a size" not in text


def test_the_engineer_adds_a_size_and_its_place_waits_to_be_measured(client, works, people, place):
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    client.force_login(people.engineer)
    assert client.post(at("add_size", place), ADD)["Location"] == at("sizes", place)
    [made] = Dimension.objects.all()
    assert (made.stations, made.spots()[0]) == (["inner end", "outer end"], ("inner end", "vertical"))
    assert (made.editions.get().shop_lower, made.editions.get().shop_upper) == (Fraction(4953, 40), None)
    place.refresh_from_db()
    assert (place.standing, place.need) == ("blocked", "measure")


@for_each(
    ("change", "told"),
    [
        ({"drawing": "5 in or so"}, "Drawing size"),
        ({"drawing": "5 in"}, "has no tolerance"),
        ({"shop": "4 7/8 thick"}, "thick"),
        ({"source": ""}, "Nothing was written"),
        ({"source_edition": " "}, "Nothing was written"),
        ({"name": ""}, "Nothing was written"),
        ({"shop_lower": "4.9"}, "It is given twice"),
        ({"scrapping": "4.95 in"}, "one of them is wrong"),
        ({"unit": ""}, "None chosen"),
        ({"wears": "either"}, "It may wear either way"),
        ({"stations": "x" * 61}, "at most 60 letters"),
    ],
)
def test_a_refusal_names_the_field_and_keeps_what_was_typed(client, people, place, change, told):
    client.force_login(people.engineer)
    answer = client.post(at("add_size", place), ADD | change)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert told in text
    assert "invented sheet" in text or change.get("source") == ""
    assert 'value="4 3/4"' in text or "scrapping" in change
    assert not Dimension.objects.exists()


def test_what_is_wrong_with_the_size_and_with_its_limits_is_told_together(client, people, place):
    client.force_login(people.engineer)
    text = client.post(at("add_size", place), ADD | {"stations": "x" * 61, "rule": ""}).content.decode()
    assert (text.count('id="errors"'), "at most 60 letters" in text, "None chosen" in text) == (1, True, True)


def test_a_size_may_be_measured_and_not_judged(client, people, place):
    client.force_login(people.engineer)
    blank = dict.fromkeys(("drawing", "shop", "scrapping", "source", "source_edition"), "")
    assert client.post(at("add_size", place), ADD | blank).status_code == 302
    assert not Dimension.objects.get().editions.exists()


def test_a_new_edition_leaves_the_old_one_readable(client, works, people, place, size):
    client.force_login(people.engineer)
    entered = {"shop": "122.5", "shop_open": "on", "rule": "simple", "source": "invented sheet", "source_edition": "2"}
    assert client.post(at("new_limits", size), entered)["Location"] == at("size", size)
    text = client.get(at("size", size)).content.decode()
    assert "The value exactly on the shop limit fails" in text
    assert "invented sheet, 1" in text
    assert size.editions.count() == 2
    assert "over 122.5 mm" in client.get(at("sizes", place)).content.decode()


def test_a_new_edition_starts_from_what_holds_now(client, people, size):
    client.force_login(people.engineer)
    text = client.get(at("new_limits", size)).content.decode()
    for typed in ("125 +0 -0.05", "123 mm", "120 mm", "invented sheet"):
        assert f'value="{typed}"' in text


def test_the_second_of_two_engineers_is_told_who_was_quicker_and_keeps_what_he_typed(client, people, size):
    entered = {"shop": "122.5", "rule": "guarded", "source": "invented sheet", "source_edition": "2", "seen": "1"}
    client.force_login(people.engineer)
    assert client.post(at("new_limits", size), entered).status_code == 302
    client.force_login(people.second_engineer)
    answer = client.post(at("new_limits", size), entered | {"shop": "122.7"})
    text = answer.content.decode()
    assert (answer.status_code, "Engineer set edition 2" in text, 'value="122.7"' in text) == (409, True, True)
    assert size.editions.count() == 2
    assert (
        client.post(at("new_limits", size), entered | {"seen": answer.context["form"]["seen"].value()}).status_code
        == 302
    )


def test_a_place_that_is_retired_takes_no_size(client, people, place):
    type(place).objects.update(retired=True)
    client.force_login(people.engineer)
    answer = client.post(at("add_size", place), ADD)
    assert (answer.status_code, "is retired" in answer.content.decode()) == (422, True)


def test_a_size_that_may_go_either_way_has_a_limit_on_each_side(client, works, people, place):
    both = works.dimension(place, "length", wears="either", limits={"shop_lower": "9", "shop_upper": "10"})
    client.force_login(people.engineer)
    text = client.get(at("new_limits", both)).content.decode()
    assert 'name="shop"' not in text
    entered = {"shop_lower": "9.5", "shop_upper": "9", "rule": "guarded", "source": "s", "source_edition": "2"}
    assert client.post(at("new_limits", both), entered).status_code == 422
    assert client.post(at("new_limits", both), entered | {"shop_upper": "10"}).status_code == 302


def test_it_is_described_anew_and_keeps_unit_and_way_of_wear(client, people, size):
    client.force_login(people.engineer)
    assert client.post(at("edit_size", size), {"name": "LH journal diameter", "unit": "in"}).status_code == 302
    size.refresh_from_db()
    assert (size.name, size.unit) == ("LH journal diameter", "mm")


def test_a_name_is_used_once_on_a_place(client, works, people, place, size):
    other = works.dimension(place, "collar")
    client.force_login(people.engineer)
    answer = client.post(at("edit_size", other), {"name": "journal diameter"})
    assert (answer.status_code, "already" in answer.content.decode()) == (422, True)


def test_it_is_retired_with_a_reason(client, people, place, size):
    client.force_login(people.engineer)
    assert client.post(at("retire_size", size), {"reason": ""}).status_code == 422
    assert client.post(at("retire_size", size), {"reason": "the axle is renewed without it"}).status_code == 302
    assert "No longer measured (1)" in client.get(at("sizes", place)).content.decode()
    assert client.get(at("new_limits", size)).status_code == 404
    assert client.post(at("retire_size", size), {"reason": "again"}).status_code == 404


def test_the_sizes_go_to_the_same_kind_of_place(client, works, people, place, size):
    other, third = works.place(name="axle", axle="driving"), works.place(name="axle", axle="trailing")
    works.place(name="wheel", axle="driving")
    works.dimension(third)
    client.force_login(people.engineer)
    page = client.get(at("copy_sizes", place)).content.decode()
    assert "axle, driving axle" in page
    assert "wheel" not in page
    answer = client.post(at("copy_sizes", place), {"places-0": other.pk, "places-1": third.pk}, follow=True)
    text = answer.content.decode()
    assert "copied to axle, driving axle" in text
    assert "already and stay as they are: axle, trailing axle" in text
    [copied] = other.dimensions.all()
    assert (copied.editions.get().shop_lower, copied.editions.get().source) == (123, "invented sheet")


def test_copying_to_nowhere_is_refused(client, works, people, place, size):
    works.place(name="axle", axle="driving")
    client.force_login(people.engineer)
    answer = client.post(at("copy_sizes", place), {})
    assert (answer.status_code, "none was ticked" in answer.content.decode().lower()) == (422, True)


@pytest.mark.parametrize("name", ["add_size", "copy_sizes"])
def test_another_role_may_not(client, people, place, name):
    for person in (people.fitter, people.examiner, people.manager):
        client.force_login(person)
        assert client.get(at(name, place)).status_code == 403
        assert client.post(at(name, place), ADD).status_code == 403
    assert not Dimension.objects.exists()


@pytest.mark.parametrize("name", ["edit_size", "new_limits", "retire_size"])
def test_another_role_may_not_change_one(client, people, size, name):
    client.force_login(people.examiner)
    assert client.post(at(name, size), ADD).status_code == 403


def test_wrong_method_stranger_and_unknown(client, people, place, size):
    assert client.get(at("sizes", place)).status_code == 302
    client.force_login(people.engineer)
    assert client.get(at("retire_size", size)).status_code == 405
    assert client.post(at("sizes", place)).status_code == 405
    assert client.get(reverse("sizes", args=[99999])).status_code == 404
    assert client.get(reverse("size", args=[99999])).status_code == 404
