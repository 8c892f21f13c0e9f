"""Field by field: what both changed is shown twice and chosen, what only the other changed is taken over."""

import json

import pytest
from django import forms
from django.core.exceptions import BadRequest
from django.http import QueryDict

from core.web.two_at_once import side_by_side, take_theirs, was
from core.web.widgets import CheckboxList

CHOICES = [("a", "Anna"), ("b", "Bert")]


class Rack(forms.Form):
    seen = forms.IntegerField(widget=forms.HiddenInput)
    name = forms.CharField()
    note = forms.CharField(required=False)
    who = forms.ChoiceField(choices=CHOICES)
    days = forms.MultipleChoiceField(choices=CHOICES, widget=CheckboxList, required=False)
    full = forms.BooleanField(required=False)


THEN = {"seen": 1, "name": "Rack A", "note": "old", "who": "a", "days": ["a"], "full": False}
NOW = {"seen": 2, "name": "Rack B", "note": "dry", "who": "b", "days": ["b"], "full": True}


def sent(**entered) -> QueryDict:
    """What the page of then would send, but for what was typed into it."""
    data = QueryDict(mutable=True)
    for name, value in ({"seen": "1", "name": "Rack A", "note": "old", "who": "a", "days-0": "a"} | entered).items():
        data[name] = value
    data["was"] = was(Rack(initial=THEN))
    return data


def again(data: QueryDict) -> Rack:
    form = Rack(data, initial=NOW)
    side_by_side(form)
    return form


def test_what_one_left_alone_takes_the_value_of_now():
    form = again(sent())
    assert {name: form[name].value() for name in ("name", "note", "who", "days")} == {
        "name": "Rack B", "note": "dry", "who": "b", "days": ["b"],
    }  # fmt: skip
    assert form.data["full"] == "on"
    assert form.fields["who"].meanwhile == "Anna"
    assert form.data["seen"] == "2"
    assert was(form) == was(Rack(initial=NOW))


def test_what_both_changed_stands_there_twice_and_may_be_taken():
    form = again(sent(name="Rack C", who="a", note="dry"))
    assert form["name"].value() == "Rack C"
    assert form.fields["name"].theirs == "Rack B"
    assert not hasattr(form.fields["note"], "theirs")  # both wrote the same
    data = form.data.copy()
    data["theirs"] = form.fields["name"].take_theirs
    assert take_theirs(data)["name"] == "Rack B"
    assert "theirs" not in take_theirs(data)


def test_ticks_and_boxes_are_taken_whole():
    data = sent(full="on")
    data["days-1"] = "b"
    form = again(data)
    assert form.fields["days"].theirs == "Bert"
    data = form.data.copy()
    data["theirs"] = form.fields["days"].take_theirs
    assert Rack(take_theirs(data), initial=NOW)["days"].value() == ["b"]


def test_a_form_that_carries_nothing_is_left_as_it_is():
    data = sent(name="Rack C")
    del data["was"]
    assert again(data)["name"].value() == "Rack C"


@pytest.mark.parametrize("ticked", ["", "7", "[1]", json.dumps(["name", 3]), '["name", {"name": 3}]'])
def test_what_no_page_sends_is_a_bad_request(ticked):
    data = sent()
    data["theirs"] = ticked
    with pytest.raises(BadRequest):
        take_theirs(data)
