"""Forms of the list for the return to service."""

from django import forms

from parts.actions.fields import WithChoicesBelow
from parts.actions.forms import asked, line


class AskFor(forms.Form):
    use_required_attribute = False
    words = asked(line("What must be shown", "In the words of the competent person.", most=300))
    asked_by = asked(line("Asked for by", "The competent person, or the body.", most=120))


class TickForm(forms.Form):
    use_required_attribute = False
    by_what = asked(line("Shown by", "The record or the paper, with its number.", most=300, widget=WithChoicesBelow))

    def __init__(self, *args, offered: list[str], **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["by_what"].widget.offered = offered


class SignList(forms.Form):
    """What is signed stands above it."""
