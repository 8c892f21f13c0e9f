"""A refusal goes to the form that has its field; the page is shown again with the status that it deserves."""

import pytest
from django import forms

from core.domain.refusals import Refusal, Refused
from parts.common.shortcuts import refusals_on, status_in


class Named(forms.Form):
    name = forms.CharField()


class Counted(forms.Form):
    count = forms.IntegerField()


def refused(*codes, forms_shown=None):
    shown = forms_shown or (Named({"name": "rod"}),)
    assert all(form.is_valid() for form in shown)
    with refusals_on(*shown):
        raise Refused(*(Refusal(code, "Name: it is taken.", "Choose another.") for code in codes))
    return shown


def test_nothing_wrong_is_200_and_a_form_that_is_not_valid_422():
    assert status_in(Named()) == status_in(Named({"name": "rod"})) == 200
    assert status_in(Named({"name": ""})) == status_in(Named({"name": "rod"}), Counted({"count": "x"})) == 422


@pytest.mark.parametrize(("code", "status"), [("name", 422), ("role", 403), ("stale", 409)])
def test_what_was_refused_has_its_status(code, status):
    (form,) = refused(code)
    assert status_in(form) == status


def test_a_refusal_stands_beside_its_field_on_whichever_form_has_it_or_at_the_top_of_the_first():
    named, counted = refused("count", "elsewhere", forms_shown=(Named({"name": "rod"}), Counted({"count": 2})))
    assert counted.errors == {"count": ["It is taken. Choose another."]}
    assert named.non_field_errors() == ["Name: it is taken. Choose another."]


def test_other_troubles_pass_through():
    form = Named({"name": "rod"})
    with pytest.raises(ZeroDivisionError), refusals_on(form):
        raise ZeroDivisionError
    assert form.is_valid()
