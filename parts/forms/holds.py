"""Forms of hold points."""

from django import forms

from ..actions.holds import STOPPABLE
from ..models import Position, Subassembly
from ..ticks import Ticks


class HoldForm(forms.Form):
    name = forms.CharField(
        label="What must be shown or done first",
        max_length=160,
        help_text="Such as: design of the inner firebox accepted.",
        error_messages={"required": "Nothing was written. Say what must be shown or released."},
    )
    body = forms.CharField(
        label="Released by",
        max_length=120,
        help_text="The inspecting body, the insurer's surveyor, the responsible engineer …",
        error_messages={"required": "Nobody is named. Say who releases it."},
    )
    stops = forms.MultipleChoiceField(
        choices=[(action, action) for action in STOPPABLE],
        widget=Ticks,
        label="Stops these actions until then",
        error_messages={"required": "None is chosen. Choose at least one action that it stops."},
    )
    subassembly = forms.ModelChoiceField(
        Subassembly.objects.none(), required=False, label="On", empty_label="the whole overhaul"
    )
    position = forms.ModelChoiceField(
        Position.objects.none(),
        required=False,
        label="Or on one place",
        empty_label="no single place",
        widget=forms.HiddenInput,
    )
    must_show = forms.CharField(
        label="Papers and tests it asks for", required=False, widget=forms.Textarea({"rows": 3})
    )
    asked_on = forms.DateField(label="Asked on", required=False, widget=forms.DateInput({"type": "date"}))

    def __init__(self, *args, locomotive, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["subassembly"].queryset = locomotive.subassemblies.in_use()
        self.fields["position"].queryset = locomotive.positions.all()

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("position"):
            cleaned["subassembly"] = None
        return cleaned


class ReleaseForm(forms.Form):
    reference = forms.CharField(
        label="Paper that releases it",
        max_length=160,
        help_text="Its number and date.",
        error_messages={"required": "Nothing was written. Give the number or date of the paper that releases it."},
    )
    conditions = forms.CharField(label="Conditions", required=False, widget=forms.Textarea({"rows": 3}))
    expires = forms.DateField(label="Good until", required=False, widget=forms.DateInput({"type": "date"}))
