"""What small forms share: the last event that the page knew of, sums, who does it, and why."""

from typing import TypeVar

from django import forms

from core.web.widgets import DeclaredFields
from parts.actions.fields import FigureField
from parts.actions.forms import asked, day, line, text
from parts.actions.writing import last_of
from parts.models import Firm

AnyForm = TypeVar("AnyForm", bound=forms.Form)
TOO_MUCH = "That is more than the register keeps. Write the sum, to the penny."


NUMBERS = {
    "invalid": "Write a number such as 1250.50.",
    "max_digits": TOO_MUCH,
    "max_whole_digits": TOO_MUCH,
    "max_decimal_places": "That is finer than the register keeps. Write fewer figures behind the point.",
}


def number(label: str, help_text: str = "", *, digits: int = 12, places: int = 2) -> FigureField:
    return FigureField(
        label=label, help_text=help_text, required=False, max_digits=digits, decimal_places=places,
        error_messages=NUMBERS,
    )  # fmt: skip


def currency() -> forms.CharField:
    widget = forms.TextInput({"class": "input-short", "autocapitalize": "characters", "autocomplete": "off"})
    return forms.CharField(
        label="Currency", help_text="Three letters, such as GBP or USD.", max_length=3, required=False, widget=widget
    )


def chosen(label: str, choices, help_text: str = "") -> forms.ChoiceField:
    return asked(
        forms.ChoiceField(
            label=label, choices=choices, widget=forms.RadioSelect, required=False, help_text=help_text,
            error_messages={"invalid_choice": "Choose one of these."},
        )
    )  # fmt: skip


def with_seen(form: AnyForm, edits) -> AnyForm:
    """The form carries the last event that changed what it shows: whoever saves second is told who was quicker."""
    form.fields["seen"] = forms.IntegerField(required=False, widget=forms.HiddenInput)
    form.initial["seen"] = last_of(edits)
    return form


class SeenForm(forms.Form):
    """What each carries: the last event that the page knew of."""

    fields: DeclaredFields
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def entered(self) -> dict:
        """What the writer is told: a sum or a day left blank is none, a currency in capitals."""
        found = {name: value for name, value in self.cleaned_data.items() if name != "seen"}
        if "currency" in found:
            found["currency"] = (found["currency"] or "GBP").upper()
        return found


class ByWhom(SeenForm):
    firm = forms.ModelChoiceField(
        Firm.objects.none(), label="Firm", required=False, empty_label="None: done here",
        error_messages={"invalid_choice": "Choose a firm from the list."},
    )  # fmt: skip
    who = line("Or who does it", "A person, or a firm that is not in the register.", most=120)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["firm"].queryset = Firm.objects.in_use()


class Costs(forms.Form):
    estimate = number("Estimated cost")
    committed = number("Cost ordered", "What was agreed with the order.")
    actual = number("Cost paid")
    currency = currency()


class PromiseForm(SeenForm):
    promised = asked(day("Promised for", "The new date. Leave it blank if they promise none."))
    why = asked(line("Why the day moved", "Every slip is kept, with its reason.", most=300))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self.initial.get("promised"):
            del self.fields["why"]  # a first promise moves no day

    def entered(self) -> dict:
        return {"why": ""} | super().entered()


class Why(SeenForm):
    reason = asked(text("Reason"))


class WhatMistake(forms.Form):
    use_required_attribute = False
    reason = asked(line("What the mistake was", "It stays in the history.", most=300))
