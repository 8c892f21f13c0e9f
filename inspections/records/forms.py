"""The form of an examination that is signed, and of what is decided of a finding."""

from typing import Any

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.forms import asked, day, line, text
from parts.domain.plain import capital
from parts.domain.plain import day as in_full
from parts.domain.words import Kind, Result

from ..domain.boiler_test_fields import TestField
from ..domain.piece_tests import FIELDS
from ..models import Examination
from .like_pieces import WithLike

CHOOSE = {"required": "None chosen. Choose one.", "invalid_choice": "Choose one from the list."}
RESULTS = [
    (Result.SOUND.value, "Sound: nothing found"),
    (Result.DEFECT.value, "Defect: worn, wasted, broken, out of limits"),
]


class WithInside(forms.Form):
    """For a piece left whole: which of the places inside it were reached, and which are out of reach. None is preset,
    and of what is ticked nowhere nothing is said."""

    fields: DeclaredFields
    inside_reached = forms.MultipleChoiceField(
        label="Inside it, reached on the whole piece", required=False, widget=CheckboxList,
        help_text="Tick what this look reached where it is, without breaking the piece down.",
        error_messages={"invalid_choice": "Choose from the places in the list."},
    )  # fmt: skip
    inside_not_reached = forms.MultipleChoiceField(
        label="Inside it, out of reach of this look", required=False, widget=CheckboxList,
        help_text="Another method that reaches there then counts, such as ultrasonic from the end. Or open the piece.",
        error_messages={"invalid_choice": "Choose from the places in the list."},
    )  # fmt: skip

    def offer_inside(self, inside) -> None:
        for name in INSIDE:
            self.fields[name].choices = [(inner.words, capital(inner.words)) for inner in inside]
            if not inside:
                del self.fields[name]

    def inside(self) -> tuple[list[str], list[str]]:
        """Reached, and out of reach."""
        entered = self.cleaned_data
        return entered.get("inside_reached", []), entered.get("inside_not_reached", [])


INSIDE = ("inside_reached", "inside_not_reached")


class Examine(WithInside, WithLike):
    """For a look that has no form of its own. `look` is a kind, as an authorisation words it: "visual"."""

    use_required_attribute = False
    field_order = ("seen", "look", "reached", "inside_reached", "inside_not_reached")
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    look = forms.ChoiceField(label="What was done", widget=forms.RadioSelect, error_messages=CHOOSE)
    reached = asked(forms.MultipleChoiceField(
        label="Surfaces reached", required=False, widget=CheckboxList,
        help_text="Tick each surface that was looked at. Of what is not ticked, say why in the remarks.",
        error_messages={"invalid_choice": "Choose from the surfaces in the list."},
    ))  # fmt: skip
    result = forms.ChoiceField(label="Result", choices=RESULTS, widget=forms.RadioSelect, error_messages=CHOOSE)
    found = asked(text("What was found", "Where, what shape, how long. Nothing to write if it is sound."))
    remarks = text("Remarks", "Instrument, lighting, standard worked to.")
    on = asked(day("Examined on"))
    look_again = day("Look again on", "Only if a new date is set.")
    supersedes = forms.ModelChoiceField(
        Examination.objects.none(), label="Takes the place of", required=False, empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip

    def __init__(self, *args, component, place, authorised, called_for, like=(), **kwargs):
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
        self.offer_inside(place.inside if place and not component.broken_down else ())
        self.offer_like(list(like))

    def clean(self):
        entered = super().clean() or self.cleaned_data
        if self.likes() and entered.get("look") not in (None, Kind.VISUAL):
            self.add_error(None, "Take the like pieces out: one report covers them for a visual examination only.")
        return entered

    def record(self) -> dict:
        """As `sign` takes it; a surface that was not ticked is on record as not reached."""
        entered = dict(self.cleaned_data)
        kind = entered.pop("look")
        reached = entered.pop("reached", [])
        missed = [surface for surface in self.surfaces if surface not in reached]
        inside, shut = self.inside()
        others = {*INSIDE, *self.like_names()}
        plain = {name: value for name, value in entered.items() if name not in others}
        return {**plain, "kind": kind, "reached": [*reached, *inside], "not_reached": [*missed, *shut]}


def offered(authorised: frozenset[str], called_for: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """What this person may sign, what the place calls for first."""
    wanted = [word for word in in_order(authorised) if is_called_for(word, called_for)]
    others = [word for word in in_order(authorised) if word not in wanted]
    calls = [(word, f"{word.capitalize()} (called for)") for word in wanted]
    return calls + [(word, word.capitalize()) for word in others]


TESTS = tuple(FIELDS)
"""Kinds that are tests, each with figures of its own."""
SHEETS = {Kind.CRACK_CHECK.value: "crack_check"} | {kind.value: kind.replace(" ", "_") for kind in TESTS}
"""Kinds that have a form of their own, by the name of its page."""


def in_order(authorised) -> list[str]:
    """What is signed on the plain form; crack checks and tests have forms of their own."""
    return [kind.value for kind in Kind if kind.value in authorised and kind.value not in SHEETS]


def is_called_for(word: str, called_for) -> bool:
    return any(word == wanted for wanted, _ in called_for)


def in_one_line(exam: Examination) -> str:
    return f"{exam} of {in_full(exam.on)}: {exam.result}"


def takes_the_place(earlier) -> forms.ModelChoiceField:
    field: Any = forms.ModelChoiceField(  # Django has its `label_from_instance` set from outside
        earlier, label="Takes the place of", required=False, empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip
    field.label_from_instance = in_one_line
    made: forms.ModelChoiceField = field
    return made


def field_of(one: TestField) -> forms.Field:
    """One line of a test, of a boiler or of a piece."""
    if one.kind == "yes":
        return forms.BooleanField(label=one.label, required=False, help_text=one.help)
    if one.kind == "day":
        return asked(day(one.label, one.help)) if one.must else day(one.label, one.help)
    made = text(one.label, one.help) if one.kind in ("lines", "pairs") else line(one.label, one.help, 160)
    return asked(made) if one.must else made
