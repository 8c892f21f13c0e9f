"""What one signature under several pieces says, and who may give it."""

from django import forms

from core.models import Person
from core.roles import Role
from parts.actions.forms import Accepting, asked, day

FROM_ROLES = (Role.FITTER, Role.EXAMINER)


class GroupForm(Accepting):
    """The same protection and the same day for all."""

    seen = None  # each row carries its own


class GroupRight(forms.Form):
    person = forms.ModelChoiceField(
        Person.objects.none(), label="Person", empty_label="Choose a fitter or an examiner",
        error_messages={"required": "Nobody chosen. Choose a fitter or an examiner.",
                        "invalid_choice": "Choose a fitter or an examiner from the list."},
    )  # fmt: skip
    until = asked(day("Good until", "The authorisation ends after this day."))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        people = Person.objects.filter(is_active=True, groups__name__in=FROM_ROLES).distinct()
        self.fields["person"].queryset = people.order_by("first_name", "last_name")
