"""The forms of tests: a hydraulic test, and those of a gauge, a valve, a spring or a pipe with their figures."""

from datetime import date

from django import forms

from core.web.widgets import DeclaredFields
from parts.actions.forms import asked, day, line, text
from parts.domain.words import Kind, Result

from ..cracks.forms.crack_checks import figure
from ..domain.hydraulic import UNITS, PressureTest
from ..domain.piece_tests import FIELDS, PieceTest, read_test
from ..records.forms import CHOOSE, field_of, takes_the_place
from ..records.reading_over import lines_of

RECORD = ("seen", "on", "result", "found", "remarks", "look_again", "supersedes")
TESTED = [
    (Result.SOUND.value, "Sound: within all its limits"),
    (Result.DEFECT.value, "Defect: it is outside, or was not good"),
]
MEDIA = [("water", "Water"), ("oil", "Oil")]
RESULTS = [
    (Result.SOUND.value, "Sound: it held, and nothing wept"),
    (Result.DEFECT.value, "Defect: it leaked, moved or fell"),
]


class HydraulicTest(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
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

    UNITS = {"hold_min": "min", "temperature_c": "°C"}

    def __init__(self, *args, kind, earlier, **kwargs):
        super().__init__(*args, **kwargs)
        if earlier:
            self.fields["supersedes"] = takes_the_place(earlier)

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        for name, words in (("pressure", "The pressure"), ("hold_min", "The time it was held")):
            if name not in self.errors and not (entered.get(name) or 0) > 0:
                self.add_error(name, f"{words} is not said. Give it in figures, above zero.")
        if "gauge" not in self.errors and not entered.get("gauge"):
            self.add_error("gauge", "Nothing was written. Say which gauge, so that its calibration can be looked up.")
        return entered

    def lines(self) -> list[str]:
        """How it was tested."""
        return list(
            PressureTest(**{name: self.cleaned_data[name] for name in PressureTest.__dataclass_fields__}).lines()
        )

    def read_back(self) -> tuple[list[tuple[str, str]], list[str]]:
        """What will be on record, and what it comes to."""
        told = [tuple(line.split(": ", 1)) for line in self.lines()]
        return [*told, *lines_of(self, PressureTest.__dataclass_fields__)], []

    def record(self) -> dict:
        """As `sign` takes it: how it was tested stands in the remarks, a line for each thing."""
        entered = self.cleaned_data
        kept = {name: entered.get(name) for name in RECORD}
        remarks = "\n".join([*self.lines(), *filter(None, [entered.get("remarks", "").strip()])])
        return {**kept, "kind": Kind.HYDRAULIC_TEST.value, "remarks": remarks}

    def rows(self):
        return [(self[name], self.UNITS.get(name, "")) for name in self.fields]


class TestOfPiece(forms.Form):
    """The figures of one kind of test with their limits, and the result."""

    __test__ = False
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, kind: Kind, earlier, **kwargs):
        super().__init__(*args, **kwargs)
        self.kind = kind
        for one in FIELDS[kind]:
            self.fields[one.name] = field_of(one)
        self.fields |= {
            "on": asked(day("Tested on")),
            "result": forms.ChoiceField(
                label="Result", choices=TESTED, widget=forms.RadioSelect, error_messages=CHOOSE,
                help_text="A figure outside its limits makes it a defect, whatever is chosen here.",
            ),
            "found": text("What was found", "Left blank, what is outside its limits stands here."),
            "remarks": text("Remarks"),
            "look_again": day("Look again on", "Only if a new date is set."),
        }  # fmt: skip
        if earlier:
            self.fields["supersedes"] = takes_the_place(earlier)

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if entered.get("on"):
            test = self.read()
            for name, sentence in test.wrong.items():
                if name not in self.errors:
                    self.add_error(name, sentence)
            if entered.get("result") == Result.SOUND:
                for sentence in test.not_enough:
                    self.add_error(None, f"{sentence} Or sign what was found as a defect.")
        elif "on" not in self.errors:
            self.add_error("on", "Give the day of the test.")
        return entered

    def figures(self) -> dict[str, str]:
        entered = {one.name: self.cleaned_data.get(one.name) or "" for one in FIELDS[self.kind]}
        return {name: value.isoformat() if isinstance(value, date) else value for name, value in entered.items()}

    def read(self) -> PieceTest:
        return read_test(self.kind, self.figures(), self.cleaned_data["on"])

    def record(self) -> dict:
        """As `sign` takes it."""
        kept = {name: self.cleaned_data.get(name) for name in RECORD}
        return {**kept, "kind": self.kind.value, "figures": self.figures()}

    def read_back(self) -> tuple[list[tuple[str, str]], list[str]]:
        test = self.read()
        return [*test.lines, *lines_of(self, [one.name for one in FIELDS[self.kind]])], [
            *test.outside,
            *test.not_enough,
        ]

    def rows(self):
        return [(self[name], "") for name in self.fields]
