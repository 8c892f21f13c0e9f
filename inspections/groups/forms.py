"""What one signature under several pieces says, and who may give it."""

from django import forms

from core.models import Person
from core.roles import Role
from parts.actions.forms import Keeping, asked, day
from parts.domain.rows import ActionInput

FROM_ROLES = (Role.FITTER, Role.EXAMINER)


class GroupForm(Keeping):
    """The same protection and the same day for all."""

    def given(self) -> ActionInput:
        entered = self.cleaned_data
        return ActionInput(protection=entered["protection"], look_again=entered["look_again"])


class GroupRight(forms.Form):
    person = forms.ModelChoiceField(
        Person.objects.filter(is_active=True, groups__name__in=FROM_ROLES).distinct(),
        label="Person", empty_label="Choose a fitter or an examiner",
        error_messages={"required": "Nobody chosen. Choose a fitter or an examiner.",
                        "invalid_choice": "Choose a fitter or an examiner from the list."},
    )  # fmt: skip
    until = asked(day("Good until", "The authorisation ends after this day."))
