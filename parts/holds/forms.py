"""Forms of hold points."""

from django import forms

from core.web.widgets import CheckboxList, DayInput, DeclaredFields

from ..actions.forms import asked
from ..domain.hold_words import CLOSE_OVERHAUL, Body
from ..domain.plain import several
from ..models import Position, RenewalStep, Subassembly
from .writers import stoppable


class HoldForm(forms.Form):
    fields: DeclaredFields
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
        choices=[],
        widget=CheckboxList,
        label="Stops these actions until then",
        error_messages={"required": "Choose at least one action that it stops."},
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
    body_kind = forms.ChoiceField(
        label="What sort of body",
        choices=[("", "As its name says"), *((kind.value, kind.value.capitalize()) for kind in Body)],
        required=False,
        help_text="Any but the responsible engineer gives a paper.",
    )
    step = forms.ModelChoiceField(
        RenewalStep.objects.none(), required=False, empty_label="no step", widget=forms.HiddenInput
    )
    lapses = forms.BooleanField(
        label="A release lapses when what it is on is taken off or reworked", required=False, help_text="As for a test."
    )
    must_show = forms.CharField(
        label="Papers and tests it asks for", required=False, widget=forms.Textarea({"rows": 3})
    )
    asked_on = forms.DateField(label="Asked on", required=False, widget=DayInput())

    def __init__(self, *args, locomotive, on_step=False, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["stops"].choices = [(action, action) for action in stoppable()]
        self.fields["subassembly"].queryset = locomotive.subassemblies.in_use()
        self.fields["position"].queryset = locomotive.positions.all()
        self.fields["step"].queryset = RenewalStep.objects.of_locomotive(locomotive)
        if on_step:
            del self.fields["subassembly"]
            self.fields["stops"].choices = [(one, one) for one in stoppable() if one != CLOSE_OVERHAUL]

    def said_anew(self) -> "HoldForm":
        """Without what a hold point is on, and when it was asked for: those stay."""
        for name in ("subassembly", "position", "step", "asked_on"):
            self.fields.pop(name, None)
        return self

    def clean(self):
        super().clean()
        cleaned = self.cleaned_data
        if cleaned.get("position") or cleaned.get("step"):
            cleaned["subassembly"] = None
        return cleaned


class FromTemplate(forms.Form):
    """Several hold points at once, each of which may be left out."""

    fields: DeclaredFields
    body = forms.CharField(
        label="Released by",
        max_length=120,
        help_text="The inspecting body or firm, by name.",
        error_messages={"required": "Nobody is named. Say who releases them."},
    )
    subassembly = forms.ModelChoiceField(
        Subassembly.objects.none(),
        label="On",
        empty_label="Choose the subassembly",
        error_messages={"required": "Choose the subassembly that they are on."},
    )
    after = forms.ModelChoiceField(
        Subassembly.objects.none(),
        label="What goes on only after its tests",
        required=False,
        empty_label="Nothing: the tests stop the return to service",
        help_text="Such as its cladding.",
    )
    wanted = forms.MultipleChoiceField(
        label="Hold points", widget=CheckboxList, error_messages={"required": "Choose at least one."}
    )

    def __init__(self, *args, locomotive, template, **kwargs):
        super().__init__(*args, **kwargs)
        for name in ("subassembly", "after"):
            self.fields[name].queryset = locomotive.subassemblies.in_use()
        if not template.wants_after:
            del self.fields["after"]
        self.fields["wanted"].choices = [(str(line.number), line.name) for line in template.lines]
        self.fields["wanted"].initial = [str(line.number) for line in template.lines]

    def entered(self) -> dict:
        """As `actions.holds.add_from_template` takes it, which is told what to leave out."""
        entered = dict(self.cleaned_data)
        wanted = entered.pop("wanted")
        return {**entered, "leave_out": [int(n) for n, _ in self.fields["wanted"].choices if n not in wanted]}


class AskForm(forms.Form):
    asked_on = forms.DateField(label="Asked on", widget=DayInput(), error_messages={"required": "Give the day."})


class StopForm(forms.Form):
    why = forms.CharField(
        label="What is wrong",
        max_length=160,
        help_text="Such as: suspected asbestos, a crack, an unsafe lift.",
        error_messages={"required": "Say in a sentence what is wrong."},
    )


class LiftForm(forms.Form):
    reason = forms.CharField(
        label="Why work may go on",
        max_length=160,
        help_text="What was found, and what was done about it. It stays on record.",
        error_messages={"required": "Nothing was written. Say why work may go on."},
    )


class StrikeForm(forms.Form):
    reason = forms.CharField(
        label="Why the release does not count",
        max_length=160,
        help_text="Such as: entered on the wrong hold point.",
        error_messages={"required": "Nothing was written. Say why the release does not count."},
    )

    def __init__(self, *args, alike: int = 0, **kwargs):
        super().__init__(*args, **kwargs)
        if alike:
            self.fields["with_alike"] = forms.BooleanField(
                label=f"Strike it on the {several(alike, 'other place')} that the same paper released", required=False
            )


class ReleaseForm(forms.Form):
    on = forms.DateField(label="Released on", required=False, widget=DayInput())
    reference = forms.CharField(
        label="Paper that releases it",
        max_length=160,
        help_text="Its number and date.",
        error_messages={"required": "Nothing was written. Give the number or date of the paper that releases it."},
    )
    who = forms.CharField(label="Released by, by name", max_length=120, required=False)
    paper = forms.FileField(
        label="Scan of the paper",
        required=False,
        help_text="PDF, JPEG, PNG or TIFF.",
        widget=forms.ClearableFileInput({"accept": "application/pdf,image/jpeg,image/png,image/tiff"}),
        error_messages={"empty": "The file is empty. Choose it again."},
    )
    filed = forms.CharField(
        label="Or where the paper is filed",
        max_length=160,
        required=False,
        help_text="Such as: boiler file, section 3.",
    )
    conditions = forms.CharField(label="Conditions", required=False, widget=forms.Textarea({"rows": 3}))
    expires = forms.DateField(label="Good until", required=False, widget=DayInput())

    def __init__(self, *args, alike: int = 0, outside: bool = False, **kwargs):
        super().__init__(*args, **kwargs)
        if outside:  # one of the two is wanted
            asked(self.fields["paper"])
            asked(self.fields["filed"])
        if alike:
            self.fields["with_alike"] = forms.BooleanField(
                label=f"The same paper releases it on {several(alike, 'other place')}", required=False
            )
