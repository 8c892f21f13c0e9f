"""Forms of the stores: moving a piece or a crate, adding a place where things lie, printing labels."""

from django import forms

from ..models import LocationKind
from .fields import LocationField, PieceField

KINDS = [choice for choice in LocationKind.choices if choice[0] != LocationKind.LOCOMOTIVE]
DATE = forms.DateInput({"type": "date"})


class MoveForm(forms.Form):
    to = LocationField(
        label="Where to",
        help_text="Scan the crate's tag, or write part of its name.",
        error_messages={"required": "Nothing was written. Say where it goes."},
    )
    promised_back = forms.DateField(
        label="Promised back", required=False, widget=DATE, help_text="Only when it goes to another firm or is lent."
    )
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)


class MoveCrateForm(forms.Form):
    to = LocationField(label="Where to", required=False, help_text="Blank: it stands by itself, in nothing else.")
    promised_back = forms.DateField(
        label="Promised back", required=False, widget=DATE, help_text="Only when it goes away."
    )


class PutHereForm(forms.Form):
    piece = PieceField(label="Put a piece here", help_text="Its tag.", error_messages={"required": "Give its tag."})


class LocationForm(forms.Form):
    name = forms.CharField(
        label="Name",
        max_length=120,
        help_text="What is painted on it.",
        error_messages={"required": "Nothing was written. Write what is painted on it."},
    )
    kind = forms.ChoiceField(label="What it is", choices=KINDS, initial=LocationKind.CRATE.value)
    parent = LocationField(label="In", required=False, help_text="The rack or building it stands in.")
    note = forms.CharField(label="What a stranger should know", max_length=200, required=False)


class EditLocationForm(forms.Form):
    name = forms.CharField(label="Name", max_length=120, error_messages={"required": "Nothing was written."})
    note = forms.CharField(label="What a stranger should know", max_length=200, required=False)
