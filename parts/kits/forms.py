"""The form of a kit."""

from django import forms

from core.web.widgets import DeclaredFields

from ..actions.fields import LocationField
from ..actions.forms import asked, line


class BeginKit(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    gathered_at = LocationField(
        label="Where it is gathered",
        required=False,
        help_text="A crate or a bench: each piece lies there once it is ticked. Blank: pieces stay where they lie.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["gathered_at"].offer()


class BeginChosen(BeginKit):
    """The pieces that were chosen go along."""

    words = asked(line("What for", "The work, such as “crack checks on Saturday”.", most=120))

    def __init__(self, *args, pieces, **kwargs):
        super().__init__(*args, **kwargs)
        self.order_fields(["words", "gathered_at"])
        for piece in pieces:
            name = f"piece-{piece.pk}"
            self.fields[name] = forms.CharField(initial=piece.pk, widget=forms.HiddenInput, required=False)

    def entered(self):
        return {name: self.cleaned_data[name] for name in ("words", "gathered_at")}
