"""Forms of the stock-take."""

from django import forms

from .acting import asked, line
from .fields import LocationField


class BeginForm(forms.Form):
    use_required_attribute = False
    into = LocationField(
        label="Or by its name",
        help_text="What is painted on it, or its tag.",
        error_messages={"required": "Nothing was written. Write what is painted on the crate, shelf or rack."},
    )


class GiveUpForm(forms.Form):
    use_required_attribute = False
    reason = asked(line("Why it is given up", most=200))
