"""The form of an examination that is signed, and of what is decided of a finding."""

from django import forms

from parts.domain.words import Kind, Method, Result
from parts.forms.acting import asked, day, text
from parts.ticks import Ticks

from ..models import Examination, FindingDecision

CHOOSE = {"required": "None chosen. Choose one.", "invalid_choice": "Choose one from the list."}
RESULTS = [
    (Result.SOUND.value, "Sound: nothing found"),
    (Result.INDICATION.value, "Indication: the crack check showed something"),
    (Result.DEFECT.value, "Defect: worn, wasted, broken, out of limits"),
]


class Examine(forms.Form):
    """`look` is a kind with its method, as an authorisation words it: "crack check: penetrant"."""

    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    look = forms.ChoiceField(label="What was done", widget=forms.RadioSelect, error_messages=CHOOSE)
    reached = forms.MultipleChoiceField(
        label="Surfaces reached", required=False, widget=Ticks,
        help_text="Untick what could not be reached: it counts as not examined.",
        error_messages={"invalid_choice": "Choose from the surfaces in the list."},
    )  # fmt: skip
    result = forms.ChoiceField(label="Result", choices=RESULTS, widget=forms.RadioSelect, error_messages=CHOOSE)
    found = text("What was found", "Where, what shape, how long. Nothing to write if it is sound.")
    remarks = text("Remarks", "Instrument, lighting, standard worked to.")
    on = asked(day("Examined on"))
    look_again = day("Look again on", "Only if a new date is set.")
    supersedes = forms.ModelChoiceField(
        Examination.objects.none(), label="Takes the place of", required=False, empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip

    def __init__(self, *args, component, place, authorised, called_for, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["look"].choices = offered(authorised, called_for)
        surfaces = sorted(place.surfaces) if place else []
        self.fields["reached"].choices = [(surface, surface.capitalize()) for surface in surfaces]
        if not surfaces:
            del self.fields["reached"]
        earlier = component.examinations.not_superseded()
        self.fields["supersedes"].queryset = earlier
        self.fields["supersedes"].label_from_instance = in_one_line
        if not earlier.exists():
            del self.fields["supersedes"]
        self.surfaces = surfaces

    def record(self) -> dict:
        """As `inspections.actions.sign` takes it; a surface that was not ticked is on record as not reached."""
        said = dict(self.cleaned_data)
        kind, _, method = said.pop("look").partition(": ")
        reached = said.pop("reached", [])
        missed = [surface for surface in self.surfaces if surface not in reached]
        return {**said, "kind": kind, "method": method, "reached": reached, "not_reached": missed}


def offered(authorised: frozenset[str], called_for: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """What this person may sign, what the place calls for first."""
    wanted = [word for word in in_order(authorised) if is_called_for(word, called_for)]
    others = [word for word in in_order(authorised) if word not in wanted]
    calls = [(word, f"{word.capitalize()} (called for)") for word in wanted]
    return calls + [(word, word.capitalize()) for word in others]


def in_order(authorised) -> list[str]:
    words = [f"{Kind.CRACK_CHECK}: {method}" for method in Method if method is not Method.ANY]
    return [word for word in (*words, Kind.VISUAL.value, Kind.DIMENSIONAL.value) if word in authorised]


def is_called_for(word: str, called_for) -> bool:
    kind, _, method = word.partition(": ")
    return any(kind == wanted and (not method or words in (kind, f"{kind}, {method}")) for wanted, words in called_for)


def in_one_line(exam: Examination) -> str:
    return f"{exam} of {exam.on.day} {exam.on:%B %Y}: {exam.result}"


class Decide(forms.Form):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    decision = forms.ChoiceField(
        label="Decision", choices=FindingDecision.Decision.choices, widget=forms.RadioSelect, error_messages=CHOOSE
    )
    reason = asked(text("Reason"))
