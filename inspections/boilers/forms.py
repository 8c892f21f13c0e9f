"""Forms of a boiler's file."""

from django import forms

from core.web.widgets import DayInput
from parts.actions.forms import asked, day, line, text
from parts.common.small_forms import chosen
from parts.domain.plain import capital
from parts.domain.plain import day as say_day
from parts.models import HoldPoint, Locomotive, Position

from ..domain.boiler_words import EntryKind, PartKind, PlateShape, Regime
from ..domain.lengths import LengthError, parse_length
from ..domain.pressures import read_pressure
from ..models import BoilerPart, SchemeRow
from .boiler_context import places_of

MISSING = {"required": "Nothing was written."}


def must(label: str, help_text: str = "", most: int = 120) -> forms.CharField:
    return forms.CharField(label=label, help_text=help_text, max_length=most, error_messages=MISSING)


def on_field() -> forms.DateField:
    return forms.DateField(label="On", widget=DayInput(), error_messages={"required": "Give the day."})


def offer(form: forms.Form, name: str, rows) -> None:
    """What can be chosen in this field."""
    field = form.fields[name]
    assert isinstance(field, forms.ModelChoiceField)
    field.queryset = rows


def one_of_these(words) -> list[tuple[str, str]]:
    return [(word.value, capital(word.value)) for word in words]


class SizeField(forms.CharField):
    """A length as typed, exact in millimetres; without a unit it is in mm."""

    def __init__(self, label: str, help_text: str = ""):
        widget = forms.TextInput({"class": "input-short", "autocomplete": "off"})
        super().__init__(label=label, help_text=help_text, max_length=60, required=False, widget=widget)

    def prepare_value(self, value):
        return value if value is None or isinstance(value, str) else f"{float(value):g} mm"

    def clean(self, value):
        typed = super().clean(value).strip()
        try:
            return parse_length(typed, "mm") if typed else None
        except LengthError as error:
            raise forms.ValidationError(str(error)) from None


class DescribeBoiler(forms.Form):
    use_required_attribute = False
    number = must("Number of the boiler", "As stamped on it.", 40)
    maker = line("Maker", most=120)
    built = line("Built", most=20)
    regime = chosen("Whose rules", one_of_these(Regime), "The competent person says which code is in force.")
    body = must("Inspecting body")
    person = line("Competent person", most=120)
    wanted = must("Working pressure wanted", "With its unit: 180 lb/in², 12 bar, 12 kgf/cm².", 40)
    note = text("Note")

    def clean_regime(self):
        if not self.cleaned_data["regime"]:
            raise forms.ValidationError("Choose whose rules it is under.")
        return self.cleaned_data["regime"]

    def clean_wanted(self):
        try:
            read_pressure(self.cleaned_data["wanted"])
        except ValueError as error:
            raise forms.ValidationError(str(error)) from None
        return self.cleaned_data["wanted"]


class AddBoiler(DescribeBoiler):
    locomotive = forms.ModelChoiceField(
        Locomotive.objects.all(), label="Stands on", required=False, empty_label="No locomotive: a spare"
    )


class DescribePart(forms.Form):
    use_required_attribute = False
    kind = chosen("What sort", one_of_these(PartKind))
    name = must("Name", "Such as: barrel course 2, firebox wrapper, LH.")
    position = forms.ModelChoiceField(
        Position.objects.none(), label="Its place in the register", required=False, empty_label="No place chosen"
    )
    metal = forms.CharField(label="Metal", initial="steel", max_length=40, error_messages=MISSING)
    shape = chosen("Shape as a developed sheet", one_of_these(PlateShape))
    width = SizeField("Width of the sheet", "Of a barrel course the inside diameter: the sheet is worked out from it.")
    height = SizeField("Height of the sheet", "Of a barrel course its length.")
    nominal = SizeField("Thickness as new")
    needed = SizeField("Thickness needed")
    needed_from = line("Where the thickness needed comes from", "The calculation or rule, with its clause.", 160)
    features = text("Its seams, flanges, stay holes and wash-out plugs", "One a line, by name. A survey asks for each.")

    def __init__(self, *args, boiler, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["shape"].initial = PlateShape.SHEET.value
        offer(self, "position", places_of(boiler))

    def clean(self):
        super().clean()
        for name in ("kind", "shape"):
            if not self.cleaned_data.get(name) and name not in self.errors:
                self.add_error(name, "Choose one of these.")
        return self.cleaned_data


class WriteRow(forms.Form):
    use_required_attribute = False
    item = must("Item")
    nature = must("Nature of the examination", "Such as: out of use, stripped, inside and out.", 160)
    months = forms.IntegerField(
        label="Interval in months", min_value=1, max_value=240, error_messages=MISSING | {"invalid": "Write months."}
    )
    preparation = line("Preparation", "What is cleaned, opened or taken off first.")
    limits = line("Safe limits", "Such as: not over 180 lb/in².")
    by = must("By whom")
    last = day("Last done")
    retired = forms.BooleanField(label="No longer in the scheme", required=False)


def holds_of(boiler):
    """Of the overhaul of its locomotive; of a spare, those of every open overhaul."""
    if boiler.locomotive:
        return HoldPoint.objects.of_locomotive(boiler.locomotive)
    on = "subassembly", "position__subassembly", "component", "step__renewal__position"
    return HoldPoint.objects.filter(overhaul__closed__isnull=True, stopped_by=None).select_related(*on).order_by("id")


class HoldField(forms.ModelChoiceField):
    """Those of one name are told apart by what they are on."""

    def __init__(self, rows, **asked):
        super().__init__(rows, required=False, empty_label="None", **asked)

    def label_from_instance(self, hold):
        on = hold.step or hold.component or hold.position or hold.subassembly
        released = f", released on {say_day(hold.released_on)}" if hold.released_on else ", not released"
        return f"{hold}{f': {on}' if on else ''}{released}"


class BoilerEntryForm(forms.Form):
    use_required_attribute = False
    kind = chosen("What is written", one_of_these(kind for kind in EntryKind if kind is not EntryKind.MOVE))
    on = asked(day("On"))
    words = forms.CharField(
        label="In words", max_length=2000, widget=forms.Textarea({"rows": 3}), error_messages=MISSING
    )
    pressure = line("Working pressure from then on", "Where a pressure is lowered or allowed: 130 lb/in².", 40)
    part = forms.ModelChoiceField(BoilerPart.objects.none(), required=False, empty_label="The whole boiler")
    points = line("Only these points of its grid", "For a renewal or build-up: rows 7-8, columns 1-4. Blank: all.", 120)
    row = forms.ModelChoiceField(
        SchemeRow.objects.none(), label="It answers this row of the scheme", required=False, empty_label="No row"
    )
    hold = HoldField(
        HoldPoint.objects.none(),
        label="Hold point that was released for it",
        help_text="A pressure repair is begun only after its release.",
    )
    reference = line("Paper", "Its number and date, and where it lies.", 160)
    by = line("By whom", most=120)

    def __init__(self, *args, boiler, **kwargs):
        super().__init__(*args, **kwargs)
        offer(self, "part", boiler.parts.all())
        offer(self, "row", boiler.scheme.filter(retired=False))
        offer(self, "hold", holds_of(boiler))

    def clean(self):
        super().clean()
        for name in ("kind", "on"):
            if not self.cleaned_data.get(name) and name not in self.errors:
                self.add_error(name, "Nothing was chosen.")
        return self.cleaned_data


class MoveBoiler(forms.Form):
    use_required_attribute = False
    locomotive = forms.ModelChoiceField(
        Locomotive.objects.all(), label="Goes to", required=False, empty_label="No locomotive: a spare"
    )
    on = on_field()
    words = line("Note", most=300)
