"""The form of a hydraulic test: how far, how long, with what and in whose presence."""

from django import forms

from parts.actions.forms import asked, day, line, text
from parts.domain.words import Kind, Result

from ..cracks.forms.crack_checks import figure
from ..domain.hydraulic import UNITS, PressureTest
from ..models import Examination
from ..records.forms import CHOOSE, in_one_line

MEDIA = [("water", "Water"), ("oil", "Oil")]
RESULTS = [
    (Result.SOUND.value, "Sound: it held, and nothing wept"),
    (Result.DEFECT.value, "Defect: it leaked, moved or fell"),
]


class HydraulicTest(forms.Form):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    echoed = forms.CharField(required=False, max_length=400, widget=forms.HiddenInput)
    pressure = asked(figure("Pressure reached", "As the gauge showed it.", 9, 3))
    unit = forms.ChoiceField(
        label="Unit of the pressure", choices=[(unit, unit) for unit in UNITS], widget=forms.RadioSelect,
        error_messages=CHOOSE | {"required": "None chosen. A pressure without a unit says nothing."},
    )  # fmt: skip
    hold_min = asked(figure("Held for", "From the pressure reached to the first let down.", 6, 1))
    medium = forms.ChoiceField(
        label="Tested with", choices=MEDIA, widget=forms.RadioSelect, initial="water", error_messages=CHOOSE
    )
    temperature_c = figure("Its temperature", "Cold metal is brittle: the local code says how warm.", 5, 1)
    gauge = asked(line("Gauge", "Its number, and until when it is calibrated."))
    witnessed_by = line("Witnessed by", "The inspecting body's person, or whoever stood by.")
    on = asked(day("Tested on"))
    result = forms.ChoiceField(label="Result", choices=RESULTS, widget=forms.RadioSelect, error_messages=CHOOSE)
    found = asked(text("What was found", "Where it leaked or moved, and how much. Nothing to write if it is sound."))
    remarks = text("Remarks")
    look_again = day("Look again on", "Only if a new date is set.")
    supersedes = forms.ModelChoiceField(
        Examination.objects.none(), label="Takes the place of", required=False, empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip

    UNITS = {"hold_min": "min", "temperature_c": "°C"}

    def __init__(self, *args, earlier, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["supersedes"].queryset = earlier
        self.fields["supersedes"].label_from_instance = in_one_line
        if not earlier:
            del self.fields["supersedes"]

    def clean(self):
        said = super().clean()
        for name, words in (("pressure", "The pressure"), ("hold_min", "The time it was held")):
            if name not in self.errors and not (said.get(name) or 0) > 0:
                self.add_error(name, f"{words} is not said. Give it in figures, above zero.")
        if "gauge" not in self.errors and not said.get("gauge"):
            self.add_error("gauge", "Nothing was written. Say which gauge, so that its calibration can be looked up.")
        return said

    def lines(self) -> list[str]:
        return list(
            PressureTest(**{name: self.cleaned_data[name] for name in PressureTest.__dataclass_fields__}).lines()
        )

    def record(self) -> dict:
        """As `sign` takes it: how it was tested stands in the remarks, a line for each thing."""
        said = self.cleaned_data
        kept = {name: said.get(name) for name in ("seen", "on", "result", "found", "look_again", "supersedes")}
        remarks = "\n".join([*self.lines(), *filter(None, [said.get("remarks", "").strip()])])
        return {**kept, "kind": Kind.HYDRAULIC_TEST.value, "remarks": remarks}

    def rows(self):
        return [(self[name], self.UNITS.get(name, "")) for name in self.fields]
