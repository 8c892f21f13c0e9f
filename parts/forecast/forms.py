"""Forms of planning: the working week, a day unlike it, a guess, and what if."""

from collections.abc import Iterable
from typing import Any

from django import forms

from core.web.widgets import DayInput

from ..domain.plain import capital
from ..models import Machine
from ..models.planning import DAYS

MOST_HOURS = 24
OUT_OF_HOURS = {"min_value": "Write hours from 0 to 24.", "max_value": "Write hours from 0 to 24.",
                "invalid": "Write hours as a number, such as 7 or 7.5."}  # fmt: skip


def hours(label: str) -> forms.DecimalField:
    widget = forms.NumberInput({"class": "input-short", "inputmode": "decimal", "step": "any"})
    return forms.DecimalField(
        label=label, min_value=0, max_value=MOST_HOURS, max_digits=4, decimal_places=2, required=False,
        error_messages=OUT_OF_HOURS, widget=widget,
    )  # fmt: skip


def people(label: str, help_text: str = "") -> forms.IntegerField:
    wrong = {"required": "Write a number of people.", "invalid": "Write a whole number of people.",
             "min_value": "Write 0 or more.", "max_value": "Write at most 500."}  # fmt: skip
    widget = forms.NumberInput({"class": "input-short", "inputmode": "numeric"})
    return forms.IntegerField(
        label=label, min_value=0, max_value=500, help_text=help_text, error_messages=wrong, widget=widget
    )


class OpeningWeekForm(forms.Form):
    use_required_attribute = False
    poor = people("People on a poor day")
    usual = people("People on a usual day")
    good = people("People on a good day")
    by_people = forms.BooleanField(
        label="Count people from the days they said they come", required=False,
        help_text="In place of the three numbers, once enough people say their days. Days with nobody are closed.",
    )  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        for day in DAYS:
            self.fields[day] = hours(f"Hours open on a {capital(day)}")
        self.order_fields([*DAYS, "poor", "usual", "good", "by_people"])

    def entered(self) -> dict[str, Any]:
        return self.cleaned_data | {day: round((self.cleaned_data[day] or 0) * 60) for day in DAYS}


class UnusualDayForm(forms.Form):
    use_required_attribute = False
    date = forms.DateField(
        label="Day", widget=DayInput(),
        error_messages={"required": "Choose the day.", "invalid": "Write the day like 2027-03-31."},
    )  # fmt: skip
    open = hours("Hours open on that day")
    note = forms.CharField(label="Why", max_length=120, required=False)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["open"].help_text = "0 when it is closed."

    def entered(self) -> dict[str, Any]:
        entered = self.cleaned_data
        return {"date": entered["date"], "minutes": round((entered["open"] or 0) * 60), "note": entered["note"]}


def days(label: str, help_text: str = "") -> forms.DecimalField:
    wrong = {"required": "Write a number of days.", "invalid": "Write days as a number, such as 4 or 2.5.",
             "min_value": "Write 0 or more.", "max_value": "Write at most 10000."}  # fmt: skip
    widget = forms.NumberInput({"class": "input-short", "inputmode": "decimal", "step": "any"})
    return forms.DecimalField(
        label=label, min_value=0, max_value=10_000, max_digits=6, decimal_places=1, help_text=help_text,
        error_messages=wrong, widget=widget,
    )  # fmt: skip


class GuessForm(forms.Form):
    use_required_attribute = False
    least = days("Least", "Open days, if all goes well.")
    likely = days("Likely", "Open days, as you expect.")
    most = days("Most", "Open days, if much goes wrong.")
    hands = people("For how many people at once", "Who usually works on this together.")

    def clean_hands(self) -> int:
        if self.cleaned_data["hands"] < 1:
            raise forms.ValidationError("Write at least one person.")
        return int(self.cleaned_data["hands"])


class MachineWorkForm(forms.Form):
    use_required_attribute = False
    what = forms.CharField(
        label="Work", max_length=80, help_text="Such as: turn the tyres.",
        error_messages={"required": "Write what has to be done."},
    )  # fmt: skip
    machine = forms.ModelChoiceField(
        Machine.objects.none(), label="Machine or place", required=False, empty_label="None",
        error_messages={"invalid_choice": "Choose a machine from the list."},
    )  # fmt: skip
    skill = forms.ChoiceField(label="What somebody on it can do", required=False)
    least = days("Least", "Open days, if all goes well.")
    likely = days("Likely", "Open days, as you expect.")
    most = days("Most", "Open days, if much goes wrong.")
    hands = people("For how many people at once")

    def __init__(self, *args: Any, skills: Iterable[str], **kwargs: Any):
        super().__init__(*args, **kwargs)
        machine, skill = self.fields["machine"], self.fields["skill"]
        assert isinstance(machine, forms.ModelChoiceField)
        assert isinstance(skill, forms.ChoiceField)
        machine.queryset = Machine.objects.filter(out_of_use=False)
        skill.choices = [("", "Anybody"), *((word, capital(word)) for word in skills)]


class WhatIf(forms.Form):
    """Nothing of it is written down."""

    hands = forms.IntegerField(
        label="More people each day", min_value=-50, max_value=50, required=False,
        widget=forms.NumberInput({"class": "input-short"}),
    )  # fmt: skip
    firm = forms.ChoiceField(label="A firm that is late", required=False)
    later = forms.IntegerField(
        label="Days later than promised", min_value=0, max_value=2000, required=False,
        widget=forms.NumberInput({"class": "input-short"}),
    )  # fmt: skip
    leave = forms.ChoiceField(label="Leave for later", required=False)

    def __init__(self, *args: Any, firms: list[str], subassemblies: list[tuple[str, str]], **kwargs: Any):
        super().__init__(*args, **kwargs)
        for name, choices in (("firm", [(firm, firm) for firm in firms]), ("leave", subassemblies)):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = [("", "Nobody" if name == "firm" else "Nothing"), *choices]

    def changed(self) -> dict[str, Any]:
        """What `OpenWork.workshop` takes; nothing where nothing was chosen."""
        if not self.is_valid():
            return {}
        entered, changed = self.cleaned_data, {}
        if entered["hands"]:
            changed["more_hands"] = entered["hands"]
        if entered["firm"] and entered["later"]:
            changed |= {"firm": entered["firm"], "later": entered["later"]}
        if entered["leave"]:
            changed["leave_out"] = (entered["leave"],)
        return changed

    def in_words(self) -> str:
        entered = self.cleaned_data
        names = dict(self.fields["leave"].choices)  # type: ignore[attr-defined]  # a ChoiceField, see above
        parts = []
        if entered["hands"]:
            more = "more" if entered["hands"] > 0 else "fewer"
            parts.append(f"{abs(entered['hands'])} {more} people each day")
        if entered["firm"] and entered["later"]:
            parts.append(f"{entered['firm']} {entered['later']} days later")
        if entered["leave"]:
            parts.append(f"{names[entered['leave']]} left for later")
        return ", ".join(parts)
