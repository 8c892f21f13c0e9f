"""Forms of who comes, of what people can do, and of machines."""

from typing import Any

from django import forms

from core.web.widgets import CheckboxList

from ..actions.forms import day
from ..domain.plain import capital
from ..forecast.forms import hours
from ..models.planning import DAYS

SKILLS = ("braze", "crack-check", "drive the crane", "in charge", "ring firms", "sling", "turn", "weld")
"""Offered as one types. Common practice, no source."""


class UsualDaysForm(forms.Form):
    use_required_attribute = False
    days = forms.MultipleChoiceField(
        label="Days you usually come", choices=[(day, capital(day)) for day in DAYS],
        widget=CheckboxList, required=False,
        help_text="Leave all blank if you come now and then: say so for each day instead.",
    )  # fmt: skip

    def entered(self) -> dict[str, Any]:
        return {"days": self.cleaned_data["days"]}


class SkillForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(
        label="What the person can do", max_length=40, help_text=f"Such as {', '.join(SKILLS)}.",
        error_messages={"required": "Write what the person can do."},
        widget=forms.TextInput({"list": "skills", "autocomplete": "off", "autocapitalize": "none"}),
    )  # fmt: skip
    until = day("Until", "The day on which the certificate ends. Blank: it does not end.")


class MachineForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(
        label="Machine or place", max_length=60, help_text="Such as lathe, wheel lathe, wash bay, hoist.",
        error_messages={"required": "Write its name."},
    )  # fmt: skip
    units = forms.IntegerField(
        label="Jobs at once", min_value=1, max_value=50, initial=1,
        widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
        error_messages={"required": "Write a number.", "min_value": "Write 1 or more.",
                        "invalid": "Write a whole number.", "max_value": "Write at most 50."},
    )  # fmt: skip
    out_of_use = forms.BooleanField(label="Out of use", required=False)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        for name in DAYS:
            self.fields[name] = hours(f"Hours on a {capital(name)}")
        self.fields[DAYS[0]].help_text = "Blank: whenever the workshop is open. 0: not on that day."
        self.order_fields(["name", "units", *DAYS, "out_of_use"])

    def entered(self) -> dict[str, Any]:
        blank = {name for name in DAYS if self.cleaned_data[name] is None}
        minutes = {name: None if name in blank else round(self.cleaned_data[name] * 60) for name in DAYS}
        return self.cleaned_data | minutes | {"name": " ".join(self.cleaned_data["name"].split())}
