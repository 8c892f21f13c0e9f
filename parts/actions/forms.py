"""What the forms of actions have in common. What they must say each action asks in its `input_checks`, so that a form
and a program are refused alike."""

from collections.abc import Sequence
from datetime import date
from typing import Any, TypeVar

from django import forms
from django.utils import timezone

from core.models import Person
from core.web.widgets import DayInput

from ..domain.input_checks import is_lot_under_pressure
from ..domain.rows import ActionContext, ActionInput
from ..models import Component

PROTECTIONS = ("oiled", "greased", "painted", "wrapped and boxed", "none needed")
"""Ways of keeping rust off that are offered. Common practice, no source."""


Asked = TypeVar("Asked", bound=forms.Field)


def asked(field: Asked) -> Asked:
    """The action itself refuses a form without it, so the form need not; the page must not say it may stay blank."""
    field.asked = True  # type: ignore[attr-defined]  # read by the template of a field
    return field


def line(label: str, help_text: str = "", most: int = 200, **kwargs: Any) -> forms.CharField:
    return forms.CharField(label=label, help_text=help_text, max_length=most, required=False, **kwargs)


def text(label: str, help_text: str = "") -> forms.CharField:
    return line(label, help_text, most=2000, widget=forms.Textarea({"rows": 3}))


def day(label: str, help_text: str = "") -> forms.DateField:
    wrong = {"invalid": "Write the day as the calendar offers it, or like 2027-03-31."}
    return forms.DateField(label=label, help_text=help_text, required=False, widget=DayInput(), error_messages=wrong)


def one_of(label: str, choices: Sequence[tuple[str, str]] = (), help_text: str = "") -> forms.ChoiceField:
    wrong = {"invalid_choice": "Choose one of these."}
    return forms.ChoiceField(
        label=label,
        choices=choices,
        help_text=help_text,
        required=False,
        widget=forms.RadioSelect,
        error_messages=wrong,
    )


def a_year_on(today: date) -> date:
    """The 29th of February is followed by the 28th."""
    last = 28 if (today.month, today.day) == (2, 29) else today.day
    return today.replace(year=today.year + 1, day=last)


class ActionForm(forms.Form):
    """What every action carries: the piece's last event as the page knew it."""

    use_required_attribute = False
    reads_facts = False  # its fields depend on more than the piece and its place
    one_tap: tuple[str, ...] = ()  # a button for each, where one tap is enough
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        component: Component,
        actor: Person,
        context: ActionContext | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.context, self.component, self.actor = context, component, actor
        self.fit()

    def fit(self) -> None:
        """Where the fields depend on the piece or on the person."""

    def offer(self, name: str, choices: list[tuple[str, str]]) -> None:
        """What can be chosen in this field."""
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)
        field.choices = choices

    def given(self) -> ActionInput:
        return ActionInput.of({name: value for name, value in self.cleaned_data.items() if value is not None})

    def described(self) -> dict[str, Any]:
        """What is written down about the piece in the same breath."""
        return {}


class ReasonForm(ActionForm):
    reason = asked(text("Reason"))


class Keeping(forms.Form):
    """What keeps a piece good until it goes on."""

    protection = asked(
        one_of(
            "Protection applied",
            [(way, way.capitalize()) for way in PROTECTIONS] + [("other", "Another way, written below")],
            "What keeps it from rusting until it goes on.",
        )
    )
    protection_other = line("Another way", most=100)
    look_again = asked(day("Look again on", "Somebody looks at it again by this day, if it has not gone on by then."))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["look_again"].initial = a_year_on(timezone.localdate())

    def clean(self) -> dict[str, Any]:
        super().clean()
        entered = self.cleaned_data
        if entered.get("protection") in ("", None, "other"):
            entered["protection"] = entered.get("protection_other", "")
        return entered


class Accepting(Keeping, ActionForm):
    """Of a lot under pressure also how many were examined, and by which certificate."""

    examined = asked(
        forms.IntegerField(
            label="How many were examined",
            min_value=1,
            required=False,
            widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
        )
    )
    sample = line("Why not all of them", "How those that were examined were chosen. Blank if all were.")
    certificate = asked(line("Certificate", "Its number, and whose.", most=120))

    def fit(self) -> None:
        lot = self.component.quantity
        if is_lot_under_pressure(self.component.place, lot):
            self.fields["examined"].help_text = f"Of the {lot} in this lot."
        else:
            for name in ("examined", "sample", "certificate"):
                del self.fields[name]


def override_field() -> forms.CharField:
    help_text = "Only rules that the responsible engineer may pass over are passed over. The reason stays on record."
    return asked(text("Reason for passing over the refusals", help_text))
