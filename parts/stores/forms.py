"""Forms of the stores: moving pieces and crates, adding and renaming the places where things lie."""

from typing import Any

from django import forms

from core.web.widgets import DayInput, DeclaredFields

from ..actions.fields import LocationField
from ..actions.forms import asked, line
from ..common.small_forms import SeenForm
from ..domain.tagcodes import TagError, check, grouped
from ..domain.written_codes import codes_written
from ..models import Component, LocationKind

KINDS = [choice for choice in LocationKind.choices if choice[0] != LocationKind.LOCOMOTIVE]
MOST_PIECES = 200
MOST_COMPLAINTS = 5


class PromiseField(forms.DateField):
    """When a piece or a crate is to be back from a firm."""

    def __init__(self):
        super().__init__(
            label="Promised back",
            required=False,
            widget=DayInput(),
            help_text="Only where it goes to another firm or is lent.",
            error_messages={"invalid": "Write the day as 2026-11-25, or leave it blank."},
        )


class PiecesField(forms.CharField):
    """One piece or many, by their tags; every tag that is wrong is named."""

    def __init__(self, **kwargs):
        widget = forms.Textarea({"rows": 1, "class": "mono", "autocapitalize": "characters", "autocomplete": "off"})
        usual: dict[str, Any] = {"widget": widget, "max_length": 200 * 60}
        super().__init__(**usual | kwargs)

    def clean(self, value):
        words, codes, wrong = codes_written(super().clean(value)), [], []
        if len(words) > MOST_PIECES:
            raise forms.ValidationError(f"{len(words)} tags, and {MOST_PIECES} at once is the most.")
        for word in words:
            try:
                codes.append(check(word))
            except TagError as trouble:
                wrong.append(str(trouble))
        pieces = Component.objects.by_code(codes)
        wrong += [f"{grouped(code)} is not tied to a piece." for code in codes if code not in pieces]
        if wrong:
            raise forms.ValidationError(wrong[:MOST_COMPLAINTS])
        return list(dict.fromkeys(pieces[code] for code in codes))


class MoveForm(forms.Form):
    fields: DeclaredFields
    to = LocationField(
        label="Where to",
        help_text="Part of the crate's name, or the code on its tag.",
        error_messages={"required": "Nothing was written. Say where it goes."},
    )
    promised = PromiseField()
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)


class KeepHereForm(forms.Form):
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)


class MoveCrateForm(forms.Form):
    fields: DeclaredFields
    to = LocationField(
        label="Where to", required=False, help_text="Its tag, or part of its name. Blank: it stands in nothing else."
    )
    promised = PromiseField()


class CrateForm(forms.Form):
    use_required_attribute = False
    into = LocationField(
        label="Or by its name",
        help_text="What is painted on it, or its tag.",
        error_messages={"required": "Write what is painted on the crate or shelf."},
    )


class GiveUpForm(forms.Form):
    """A count that is not finished."""

    use_required_attribute = False
    reason = asked(line("Why it is given up", most=200))


class PutHereForm(forms.Form):
    pieces = PiecesField(
        label="Put pieces here",
        help_text="Their tags, one or many.",
        error_messages={"required": "Give the tag of at least one piece."},
    )


class LocationForm(forms.Form):
    fields: DeclaredFields
    name = forms.CharField(
        label="Name",
        max_length=120,
        help_text="What is painted on it.",
        error_messages={"required": "Write what is painted on it."},
    )
    kind = forms.ChoiceField(label="What it is", choices=KINDS, initial=LocationKind.CRATE.value)
    parent = LocationField(label="In", required=False, help_text="The rack or building it stands in.")
    note = forms.CharField(label="What a stranger should know", max_length=200, required=False)


class EditLocationForm(SeenForm):
    name = forms.CharField(
        label="Name",
        max_length=120,
        error_messages={"required": "Write what is painted on it."},
    )
    note = forms.CharField(label="What a stranger should know", max_length=200, required=False)
