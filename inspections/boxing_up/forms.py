"""The form of boxing up."""

from typing import Any

from django import forms

from parts.actions.forms import asked, text
from parts.actions.second_name import ask_second_name, prove_second_name


def _count(label: str, help_text: str = "") -> forms.IntegerField:
    wrong = {"invalid": "Write a whole number.", "min_value": "Write 0 or more.", "max_value": "Write 999 or less.",
             "required": "Write the number; 0 if there were none."}  # fmt: skip
    widget = forms.NumberInput({"class": "input-short", "inputmode": "numeric"})
    return forms.IntegerField(
        label=label, help_text=help_text, min_value=0, max_value=999, error_messages=wrong, widget=widget
    )


class BoxUpForm(forms.Form):
    use_required_attribute = False
    tools_in = _count("Tools counted in", "From the list that was kept while it was open.")
    tools_out = _count("Tools counted out", "Count what lies outside now.")
    rags_in = _count("Rags counted in")
    rags_out = _count("Rags counted out")
    seen = asked(text("What you both saw inside", "Clean, oiled, every locking device in sight, nothing left behind."))

    def __init__(self, *args: Any, actor, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.actor = actor
        ask_second_name(self, actor, "Boxing up takes two names: you who close it, and somebody who looks with you.")

    def clean(self) -> dict[str, Any]:
        super().clean()
        prove_second_name(self, self.actor)
        return self.cleaned_data
