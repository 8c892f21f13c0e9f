"""The form under a sheet of sizes that signs it, what a page of it sent, and the form of a concession on a size."""

from typing import Any

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.forms import asked, day, line, text
from parts.domain.plain import capital

from ..domain.typed_sheets import LONGEST
from ..models import Dimension, Examination
from ..records.forms import CHOOSE, RESULTS, in_one_line

RECORD = ("seen", "result", "found", "remarks", "on", "look_again", "supersedes")
UNITS = ("mm", "in")


class SignSheet(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    result = forms.ChoiceField(
        label="Result", choices=RESULTS, widget=forms.RadioSelect, error_messages=CHOOSE,
        help_text="A size outside its limits makes it a defect, whatever is chosen here.",
    )  # fmt: skip
    found = text("What was found", "Left blank, the sizes outside their limits stand here.")
    remarks = text("Remarks", "Temperature, setting masters, what could not be got at.")
    shut = forms.MultipleChoiceField(
        label="Inside it, out of reach on the whole piece", required=False, widget=CheckboxList,
        help_text="Tick each size that could not be got at, and say why in the remarks. Or break the piece down.",
        error_messages={"invalid_choice": "Choose from the sizes in the list."},
    )  # fmt: skip
    on = asked(day("Measured on"))
    look_again = day("Look again on", "Only if a new date is set.")
    supersedes = forms.ModelChoiceField(
        Examination.objects.none(), label="Corrects, and takes the place of", required=False,
        empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip

    def __init__(self, *args, earlier, inner=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["shut"].choices = [(str(size.pk), capital(str(size))) for size in inner]
        if not inner:
            del self.fields["shut"]
        self.fields["supersedes"].queryset = earlier
        self.fields["supersedes"].label_from_instance = in_one_line
        if not earlier:
            del self.fields["supersedes"]

    def clean(self):
        super().clean()
        if self.cleaned_data.get("shut") and not self.cleaned_data.get("remarks", "").strip():
            self.add_error("remarks", "Say why the sizes that are ticked could not be got at.")
        return self.cleaned_data

    def record(self) -> dict:
        """As `sign` takes it."""
        told = {name: value for name, value in self.cleaned_data.items() if name != "shut"}
        named = dict(self.fields["shut"].choices) if "shut" in self.fields else {}
        return {**told, "not_reached": [named[number] for number in self.cleaned_data.get("shut", ())]}


class Concede(forms.Form):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    reason = asked(text("Reason", "Why it may go back in service outside its limit, and under what conditions."))
    look_again = asked(day("Look again on", "By then it is measured again."))
    paper = line("The inspecting body's paper", "Its reference. On a pressure part there is no concession without it.")


def heard(data, dimensions: list[Dimension]) -> dict:
    """What a page of the sheet sent: the whole sheet, one size, or one spot of it. Nothing is read here yet."""
    return {
        "sizes": {str(one.pk): entered for one in dimensions if (entered := _size(data, one))},
        "record": {name: _short(data[name], "field") for name in RECORD if name in data} | _shut(data),
    }


def _shut(data) -> dict:
    """The sizes ticked as out of reach, where the foot of the sheet was sent."""
    ticked = [value for name in data if name.startswith("shut-") for value in data.getlist(name)]
    return {"shut": [_short(value, "figure") for value in ticked]} if "on" in data else {}


def _size(data, dimension: Dimension) -> dict:
    number = dimension.pk
    figures = {
        spot: _short(data[name], "figure")
        for spot in range(len(dimension.spots()))
        if (name := f"size-{number}-{spot}") in data
    }
    if not figures:
        return {}
    entered: dict[str, Any] = {"figures": figures}
    if f"with-{number}" in data:
        entered["instrument"] = _short(data[f"with-{number}"], "figure")
    if data.get(f"unit-{number}") in UNITS:
        entered["unit"] = data[f"unit-{number}"]
    why = f"why-{number}-"
    entered["reasons"] = {
        name.removeprefix(why): _short(data[name], "reason") for name in data if name.startswith(why) and name != why
    }
    return entered


def _short(typed: str, sort: str) -> str:
    """At a bearable length, and with what no database takes made visible rather than left out."""
    return typed.replace("\0", "\ufffd")[: LONGEST[sort]]
