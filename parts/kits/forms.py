"""The form of a kit."""

from django import forms

from core.web.widgets import DeclaredFields

from ..actions.fields import LocationField


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
