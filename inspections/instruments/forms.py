"""Forms of the register of instruments. Sizes are typed with or without a unit; without one they are in the unit that
the instrument is graduated in."""

from django import forms

from parts.actions.forms import asked, day, line

from ..domain.lengths import LengthError, parse_length
from ..limits.forms import CHOOSE, size
from ..models.dimensions import UNITS

SIZES = ("low", "high", "resolution", "uncertainty")
OFFERED = ("outside micrometer", "inside micrometer", "vernier caliper", "bore gauge", "depth gauge", "dial gauge")


class WithSizes(forms.Form):
    """Reads the sizes once the unit is known. What was typed stays in the field."""

    use_required_attribute = False
    unit_known = ""

    def clean(self):
        unit = self.cleaned_data.get("unit") or self.unit_known
        if not unit:
            return self.cleaned_data  # said beside the unit itself
        for name in SIZES:
            typed = (self.cleaned_data.get(name) or "").strip()
            if name not in self.fields:
                continue
            try:
                self.cleaned_data[name] = parse_length(typed, unit) if typed else None
            except LengthError as error:
                self.add_error(name, str(error))
        return self.cleaned_data


class Described(WithSizes):
    kind = asked(line("What it is", "Outside micrometer, vernier caliper, bore gauge.", most=80))
    low = size("Measures from")
    high = size("Measures to")
    resolution = size("Resolution", "The smallest step that it shows: 0.01 mm, 0.001 in.")
    note = line("Note", "Where it is kept, what it is set by.", most=300)

    def __init__(self, *args, instrument=None, **kwargs):
        super().__init__(*args, **kwargs)
        if instrument is not None:
            self.unit_known = instrument.unit


class Calibrated(WithSizes):
    on = asked(day("Calibrated on"))
    until = asked(day("Good until", "The day by which it is calibrated again."))
    uncertainty = asked(size("Expanded uncertainty", "From the certificate, with coverage factor 2: 0.004 mm."))
    certificate = asked(line("Certificate", "Its number; or who checked it, against what.", most=160))

    def __init__(self, *args, instrument=None, **kwargs):
        super().__init__(*args, **kwargs)
        if instrument is not None:
            self.unit_known = instrument.unit


class AddInstrument(Described, Calibrated):
    code = asked(line("Number on the instrument", most=30))
    unit = asked(
        forms.ChoiceField(label="Graduated in", choices=UNITS, widget=forms.RadioSelect, error_messages=CHOOSE)
    )
    field_order = (
        "code",
        "kind",
        "unit",
        "low",
        "high",
        "resolution",
        "note",
        "on",
        "until",
        "uncertainty",
        "certificate",
    )

    def given(self) -> dict:
        entered = dict(self.cleaned_data)
        entered["calibrated_on"], entered["calibrated_until"] = entered.pop("on"), entered.pop("until")
        return entered


class Calibrate(Calibrated):
    found_out = forms.BooleanField(
        label="It was found out of true as it came",
        required=False,
        help_text="What was measured with it since it was last found good is then in doubt. "
        "Where it could not be put right, leave “good until” and the uncertainty blank.",
    )
    field_order = ("found_out", "on", "certificate", "until", "uncertainty")
