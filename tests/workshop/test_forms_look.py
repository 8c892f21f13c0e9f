"""How a form stands on a page: labels, hints, mistakes with links to their fields, tick boxes."""

import re

from django import forms
from django.http import QueryDict
from django.template.loader import render_to_string

from core.web.widgets import CheckboxList


class Look(forms.Form):
    bore = forms.CharField(label="Bore", help_text="With its unit.")
    remarks = forms.CharField(label="Remarks", required=False)
    surfaces = forms.MultipleChoiceField(
        label="Surfaces", choices=[("j", "Journals"), ("f", "Fillets")], widget=CheckboxList
    )


def page(form) -> str:
    return render_to_string("components/form.html", {"form": form})


def test_every_mistake_links_to_its_field():
    html = page(Look(QueryDict("")))
    targets = re.findall(r'href="#([^"]+)"', html)
    assert targets == ["id_bore", "id_surfaces"]
    assert all(f'id="{target}"' in html for target in targets)


def test_a_field_points_at_its_hint_and_its_mistake():
    html = page(Look(QueryDict("")))
    assert 'aria-describedby="id_bore_helptext id_bore_error"' in html
    assert 'id="id_bore_helptext"' in html
    assert 'id="id_bore_error"' in html


def test_what_may_be_left_blank_says_so():
    assert page(Look()).count("(may be left blank)") == 1


def test_a_fresh_form_lists_no_mistakes():
    assert 'role="alert"' not in page(Look())


def test_tick_boxes_have_names_of_their_own_and_come_back_together():
    assert re.findall(r'name="(surfaces[^"]*)"', page(Look())) == ["surfaces-0", "surfaces-1"]
    form = Look(QueryDict("bore=6+in&surfaces-0=j&surfaces-1=f"))
    assert form.is_valid()
    assert form.cleaned_data["surfaces"] == ["j", "f"]


def test_a_tick_that_was_never_offered_is_refused():
    form = Look(QueryDict("bore=6+in&surfaces-7=spokes"))
    assert list(form.errors) == ["surfaces"]
