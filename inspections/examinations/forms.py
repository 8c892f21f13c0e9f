"""The form of a test of a piece: of a boiler part, a gauge, a valve, a spring or a pipe, with its figures."""

from datetime import date

from django import forms

from parts.actions.forms import asked, day, text
from parts.domain.words import Kind, Result

from ..domain.piece_tests import FIELDS, PieceTest, read_test
from ..records.forms import CHOOSE, field_of, takes_the_place
from ..records.reading_over import lines_of

RECORD = ("seen", "on", "result", "found", "remarks", "look_again", "supersedes")
TESTED = [
    (Result.SOUND.value, "Sound: within all its limits"),
    (Result.DEFECT.value, "Defect: it is outside, or was not good"),
]


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
