"""Forms of the sizes that a successor must match. The writer reads what was typed."""

from django import forms

from core.web.widgets import DeclaredFields, seen
from parts.actions.forms import asked, line, text
from parts.models import Photo

from ..domain.reproducing import What
from ..limits.forms import size as length
from ..models import Instrument
from ..models.dimensions import UNITS
from ..records.forms import CHOOSE
from .writers import SizeToTake


class TakeSize(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    what = asked(
        forms.ChoiceField(
            label="What is taken", choices=[(what.value, what.capitalize()) for what in What],
            widget=forms.RadioSelect, required=False, error_messages=CHOOSE,
        )
    )  # fmt: skip
    name = line(
        "Between what, or which", "Bolt holes 1 to 2, centre to centre. Needed where there are several.", most=120
    )
    unit = asked(
        forms.ChoiceField(
            label="Unit of the drawing", choices=UNITS, widget=forms.RadioSelect, required=False, error_messages=CHOOSE
        )
    )
    size = asked(length("Size as read", "36 1/64 in, or 914.6. The old piece may be worn: write what is there."))
    tolerance = length(
        "The new one",
        "How near to that: ±0.5 mm. Or the size that it is to have instead: 36 in ±1/64 in. Or: to drawing GW-114.",
    )
    instrument = forms.ModelChoiceField(
        Instrument.objects.none(), label="Taken with", required=False, empty_label="None with a number",
        error_messages={"invalid_choice": "Choose one of the instruments."},
    )  # fmt: skip
    with_what = line("Or taken with", "Steel rule, tape, template, tracing.", most=120)
    note = line("How it was taken", "From which face, where the template hangs, what is worn or broken.", most=300)
    photo = forms.ModelChoiceField(
        Photo.objects.none(), label="Photo or sketch", required=False, empty_label="None",
        widget=forms.RadioSelect, error_messages={"invalid_choice": "Choose one of its photos."},
    )  # fmt: skip

    def __init__(self, *args, pictures, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["tolerance"].asked = True
        self.fields["instrument"].queryset = Instrument.objects.in_use()
        self.fields["photo"].queryset = pictures
        self.fields["photo"].label_from_instance = seen

    def taken(self) -> SizeToTake:
        return SizeToTake(**self.cleaned_data)


class NoneToTake(forms.Form):
    use_required_attribute = False
    reason = asked(
        text("Why no size is needed", "Broken up past measuring; the drawing says all; bought to a standard.")
    )
