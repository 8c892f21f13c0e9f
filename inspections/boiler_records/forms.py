"""Forms of the records of a boiler: what is typed before readings, figures and formulas, and the fields of a test."""

from django import forms
from django.db.models import Q

from parts.actions.forms import line, text
from parts.common.small_forms import chosen

from ..boilers.forms import MISSING, HoldField, holds_of, must, offer, on_field
from ..boilers.sources import Source
from ..domain.boiler_calculation import PARTS, InputSource
from ..domain.boiler_methods import METHODS
from ..domain.boiler_test_fields import FIELDS, BoilerTestKind
from ..domain.calculation_figures import KINDS, read_figure
from ..domain.survey_words import MOST_POINTS, MOST_ROWS, read_zones
from ..models import Boiler, Instrument
from ..records.forms import field_of

UNITS = (("mm", "mm"), ("in", "in"))


class Dated(forms.Form):
    use_required_attribute = False
    on = on_field()


def count(label: str, most: int) -> forms.IntegerField:
    wrong = {"invalid": "Write a whole number.", "min_value": "At least 1.", "max_value": f"At most {most}."}
    widget = forms.TextInput({"inputmode": "numeric", "class": "input-short"})
    return forms.IntegerField(label=label, min_value=1, max_value=most, widget=widget, error_messages=MISSING | wrong)


class SurveyHead(Dated):
    """What is settled before the first reading."""

    instrument = forms.ModelChoiceField(
        Instrument.objects.none(), label="Gauge", empty_label="Choose the gauge",
        error_messages={"required": "Choose a gauge in date: without one no reading counts."},
    )  # fmt: skip
    unit = forms.ChoiceField(label="Read in", choices=UNITS, widget=forms.RadioSelect, initial="mm")
    down = count("Rows of the grid", MOST_ROWS)
    across = count("Columns of the grid", MOST_ROWS)
    zones = text(
        "Zones", "One a line: foot: rows 7-8. Or: corner: rows 7-8, columns 1-2. Blank: the whole sheet is one."
    )
    block = must("Calibration block, its thickness", "10 or 10.00 mm.", 40)
    opening = must("Opening check: what the gauge showed on it", most=40)
    tolerance = must("It may be out by", "Such as 0.1.", 40)
    velocity = must("Velocity of sound that was set, m/s", "Steel about 5890, copper about 4660.", 12)
    couplant = must("Couplant", most=80)
    reader = must("Held the probe")
    writer = must("Wrote the figures down")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        gauges = Instrument.objects.in_use()
        of_thickness = gauges.filter(Q(kind__icontains="thickness") | Q(kind__icontains="ultrasonic"))
        offer(self, "instrument", of_thickness if of_thickness.exists() else gauges)

    def clean_zones(self):
        try:
            read_zones(self.cleaned_data["zones"])
        except ValueError as wrong:
            raise forms.ValidationError(str(wrong)) from None
        return self.cleaned_data["zones"]

    def clean(self):
        super().clean()
        if self.cleaned_data.get("down", 0) * self.cleaned_data.get("across", 0) > MOST_POINTS:
            self.add_error("across", f"That is more than {MOST_POINTS} points. Survey the plate in two parts.")
        return self.cleaned_data


class StaysHead(Dated):
    """The grid of the stays as the plate has it, seen from inside the firebox."""

    unit = forms.ChoiceField(label="Sizes are in", choices=UNITS, widget=forms.RadioSelect, initial="mm")
    kind = forms.CharField(label="Kind of stay", initial="firebox stay", max_length=60, error_messages=MISSING)
    material = must("Material", most=60)
    rows = must("Rows, from the top edge", "100, 200, 300", 300)
    columns = must("Columns, from the left edge", "100, 200, 300", 300)
    top = must("Top edge, where flange or ring takes over", "0", 30)
    bottom = must("Bottom edge", most=30)
    left = must("Left edge", "0", 30)
    right = must("Right edge", most=30)
    none_meant = line("No stay is meant at", "Row.column, as for a fire hole: 3.4 3.5", 300)
    root = must("Diameter at the root of the thread", most=30)
    telltale = line("Diameter of the telltale", "Blank: solid stays.", 30)
    pressure = must("Pressure", "With its unit: 180 lb/in².", 40)
    allowed = must("Stress allowed", "With its unit: 7500 lb/in², 52 N/mm².", 40)
    allowed_from = must("Where that comes from", "The code and its clause, or “from memory”.", 160)
    apart = line("No two broken within", "Blank where the code says nothing.", 30)
    in_all = line("Broken in all, at most", most=4)
    clause = line("Where these limits come from", "The code and its clause, or “from memory”.", 160)
    elsewhere = line("Stays that count as broken on the other plates", most=4)
    reader = must("Sounded by")
    writer = must("Written by")


class CalculationHead(Dated):
    title = must("What is calculated", "Such as: as surveyed, before the repair.", 160)


class AddFigure(forms.Form):
    """Linked to a record, a drawing or a paper of the file, which fills what is left blank; or typed whole."""

    use_required_attribute = False
    name = must("Figure", "Such as: least thickness of course 2.")
    link = forms.ChoiceField(
        label="Take it from", required=False,
        help_text="A survey gives the thickness that a pressure rests on. Boxes left blank below are filled from here.",
    )  # fmt: skip
    written = line("As written", "With its unit, as it stands on the paper: 14.5 mm, 26 long tons/in², 0.72.", 60)
    kind = chosen("What it is", [(kind, kind) for kind in KINDS])
    origin = chosen("Where it came from", [(one.value, one.value) for one in InputSource])
    where = line("Which", "The point, sheet, paper or clause. Of an assumption: why.", 200)

    def __init__(self, *args, sources: list[Source], **kwargs):
        super().__init__(*args, **kwargs)
        self.sources = {one.link: one for one in sources}
        offered = [(one.link, f"{one.words}: {one.figure}" if one.figure else one.words) for one in sources]
        link = self.fields["link"]
        assert isinstance(link, forms.ChoiceField)
        link.choices = [("", "None of these: type everything below"), *offered]

    def clean(self):
        super().clean()
        made, source = self.cleaned_data, self.sources.get(self.cleaned_data.get("link", ""))
        if source:
            taken = {"written": source.figure, "kind": source.kind, "origin": source.origin, "where": source.words}
            made |= {name: made.get(name) or value for name, value in taken.items()}
        for name in ("written", "kind", "origin", "where"):
            if not made.get(name) and name not in self.errors:
                self.add_error(name, "Enter it here.")
        if made.get("kind") and made.get("written"):
            self._read(made, source)
        return made

    def _read(self, made: dict, source: Source | None) -> None:
        try:
            figure = read_figure(made["written"], made["kind"])
            if source and source.figure and figure > read_figure(source.figure, made["kind"]):
                more = f"{source.words}: {source.figure}. Write that or less; a higher figure needs another source."
                self.add_error("written", more)
        except ValueError as wrong:
            self.add_error("written", str(wrong))


class AddFormula(forms.Form):
    """One formula: what each letter of it is, among the figures and earlier lines of that kind."""

    use_required_attribute = False
    title = must("What it is worked out for", "Such as: barrel course 2.")
    part = forms.ChoiceField(
        label="Part of the boiler that it stands for", required=False,
        choices=[("", "None: it feeds another formula"), *((part, part) for part in PARTS)],
    )  # fmt: skip

    def __init__(self, *args, method: str, known, **kwargs):
        super().__init__(*args, **kwargs)
        formula = METHODS[method]
        if formula.kind != "pressure":
            del self.fields["part"]
        for name, kind in formula.inputs.items():
            usual = (formula.defaults or {}).get(name)
            choices = [(key, words) for key, words, of in known if of == kind]
            blank = f"As the formula takes it: {usual}" if usual is not None else f"Choose a {kind}"
            self.fields[f"use-{name}"] = forms.ChoiceField(
                label=f"{name.replace('_', ' ').capitalize()} ({kind})", required=usual is None,
                choices=[("", blank), *choices],
                error_messages={"required": f"None is chosen. Add the figure ({kind}) first if it is missing."},
            )  # fmt: skip

    def line(self) -> dict:
        entered = self.cleaned_data
        uses = {name.removeprefix("use-"): key for name, key in entered.items() if name.startswith("use-") and key}
        return {"title": entered["title"], "part": entered.get("part", ""), "uses": uses}


class LeaveOut(forms.Form):
    use_required_attribute = False
    part = chosen("The boiler has no", [(part, part) for part in PARTS])
    reason = must("Why")


class CalculationWhatIf(forms.Form):
    use_required_attribute = False
    name = must("What if", "Such as: the patch is welded in; the plate is 1/2 in.")

    def __init__(self, *args, figures, **kwargs):
        super().__init__(*args, **kwargs)
        self.keys = {one["key"]: one for one in figures}
        for one in figures:
            self.fields[f"if-{one['key']}"] = line(one["name"], f"Now {one['written']}. Blank: unchanged.", 60)

    def clean(self):
        super().clean()
        for key, one in self.keys.items():
            if written := self.cleaned_data.get(f"if-{key}"):
                try:
                    read_figure(written, one["kind"])
                except ValueError as wrong:
                    self.add_error(f"if-{key}", str(wrong))
        if not self.errors and not self.changes():
            self.add_error(None, "Nothing is changed. Give one figure another value.")
        return self.cleaned_data

    def changes(self) -> dict[str, str]:
        return {key: written for key in self.keys if (written := self.cleaned_data.get(f"if-{key}"))}


class WriteTest(Dated):
    """All that may be typed of one sort of test. What is missing is said when it is signed, so that nothing is lost."""

    def __init__(self, *args, boiler: Boiler, sort: BoilerTestKind, **kwargs):
        super().__init__(*args, **kwargs)
        for one in FIELDS[sort]:
            self.fields[one.name] = field_of(one)
            if one.kind == "lines":
                self.fields[one.name].widget.attrs["rows"] = 2
        self.fields["hold"] = HoldField(
            holds_of(boiler),
            label="Hold point whose release it supports",
            help_text="The named body releases it on its own signed paper.",
        )
        self.fields["result"] = chosen("Result", [("passed", "Passed"), ("failed", "Failed")])
        self.fields["why"] = line("Why it failed", most=300)

    def entered(self) -> dict:
        entered = dict(self.cleaned_data)
        return {name: value.isoformat() if hasattr(value, "isoformat") else value for name, value in entered.items()
                if name not in ("on", "hold", "seen")}  # fmt: skip


class FileAcceptance(forms.Form):
    use_required_attribute = False
    who = must("Competent person who signed the paper")
    reference = must("The paper", "Its number and date, and where it lies.", 160)
    words = line("Conditions", most=1000)


class SecondCheck(forms.Form):
    use_required_attribute = False
    words = line("What was worked again, and how it compared", most=1000)
