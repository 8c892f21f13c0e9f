"""Forms of the page of one photo."""

from django import forms

from ..actions.fields import ThingField
from ..actions.forms import asked, line


class PutRight(forms.Form):
    caption = line("What it shows")
    thing = ThingField(
        label="What it is a photo of",
        required=False,
        help_text="If it shows something else: the tag of that piece, or the tag or name of the crate.",
    )


class TakeOut(forms.Form):
    reason = asked(line("Reason", "It stays in the history, with the photo.", most=300))
