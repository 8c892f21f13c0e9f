"""Forms of the sums for patterns: sizes and masses are read as they are written in the workshop, never guessed."""

from typing import Any

from django import forms

from core.web.widgets import DeclaredFields
from inspections.domain.lengths import LengthError, parse_length
from inspections.domain.masses import parse_mass
from inspections.domain.quantities import QuantityError
from parts.models import Contraction, Density

from .patterns import ContractionField, contraction_choices, density_choices

MOST_SIZES = 40


class SizeField(forms.CharField):
    """A size with its unit, exact millimetres."""

    def __init__(self, *, signed=False, **kwargs):
        self.signed = signed
        widget = forms.TextInput({"class": "input-short", "autocomplete": "off"})
        usual: dict[str, Any] = {"max_length": 60, "widget": widget}
        super().__init__(**usual | kwargs)

    def clean(self, value):
        typed = super().clean(value)
        if not typed:
            return None
        try:
            return parse_length(typed, signed=self.signed)
        except LengthError as trouble:
            raise forms.ValidationError(str(trouble)) from None


class SizesField(forms.CharField):
    """One size in each line: pairs of what was typed and exact millimetres. Every line that is wrong is named."""

    def __init__(self, **kwargs):
        usual: dict[str, Any] = {"max_length": 2000, "widget": forms.Textarea({"rows": 3, "autocomplete": "off"})}
        super().__init__(**usual | kwargs)

    def clean(self, value):
        lines = [line.strip() for line in super().clean(value).splitlines() if line.strip()]
        if len(lines) > MOST_SIZES:
            raise forms.ValidationError(f"{len(lines)} sizes, and {MOST_SIZES} at once is the most.")
        found, wrong = [], []
        for line in lines:
            try:
                found.append((line, parse_length(line)))
            except LengthError as trouble:
                wrong.append(str(trouble))
        wrong += [f"“{line[:40]}” is no size of anything. Write one above zero." for line, mm in found if mm == 0]
        if wrong:
            raise forms.ValidationError(wrong[:5])
        return found


class MassField(forms.CharField):
    """A mass with its unit, exact kilograms."""

    def clean(self, value):
        try:
            kg = parse_mass(super().clean(value))
        except QuantityError as trouble:
            raise forms.ValidationError(str(trouble)) from None
        if not kg:
            raise forms.ValidationError("Write the mass of the pattern, above 0.")
        return kg


class Sum(forms.Form):
    """`sum` says which of the page's forms was sent."""

    fields: DeclaredFields
    use_required_attribute = False
    key = ""
    sum = forms.CharField(widget=forms.HiddenInput)

    def __init__(self, data=None, *, initial=None, **kwargs):
        super().__init__(data, initial={"sum": self.key} | (initial or {}), auto_id=f"{self.key}_%s", **kwargs)


def row_chosen(label, **kwargs):
    return forms.ChoiceField(
        label=label, required=False, error_messages={"invalid_choice": "Choose one from the list."}, **kwargs
    )


class LengthSum(Sum):
    key = "length"
    finished = SizesField(
        label="Finished sizes", help_text="One in each line, with its unit: 24 in, or 610 mm.",
        error_messages={"required": "Nothing was written. Write at least one size."},
    )  # fmt: skip
    machining = SizeField(
        label="Machining allowance", required=False, signed=True,
        help_text="In all: both faces of a length that is machined at both ends. Below zero for a bore: -1/4 in.",
    )  # fmt: skip
    contraction = row_chosen("Contraction of the casting")
    own = ContractionField("Or another contraction", "As the foundry advises, such as 1/10 in per foot.")
    master = row_chosen(
        "Contraction of the master", help_text="Only where a metal pattern is cast first, from a wooden master."
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        choices = contraction_choices()
        self.fields["contraction"].asked = True  # or the line below it
        self.fields["contraction"].choices = [("", "Choose the metal and the source"), *choices]
        self.fields["master"].choices = [("", "None: cast straight from this pattern"), *choices]

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        entered["row"] = _row(Contraction, entered.get("contraction"))
        entered["master_row"] = _row(Contraction, entered.get("master"))
        if entered["row"] and entered.get("own") is not None:
            self.add_error("own", "Two contractions are given. Choose one from the list, or write one here.")
        elif not entered["row"] and entered.get("own") is None and not {"own", "contraction"} & set(self.errors):
            self.add_error("contraction", "Choose one, or write another one below.")
        elif entered.get("finished") and entered.get("machining") is not None:
            smallest = min(mm for _, mm in entered["finished"])
            if smallest + entered["machining"] <= 0:
                self.add_error("machining", "It takes away the whole of the smallest size. Check both.")
        return entered


class AllowanceSum(Sum):
    key = "allowance"
    pattern = SizeField(
        label="The pattern, measured", help_text="One length that contracts freely, with its unit.",
        error_messages={"required": "Nothing was written. Measure a long, plain length."},
    )  # fmt: skip
    finished = SizeField(
        label="The same length, finished", help_text="From the drawing, or from the old piece.",
        error_messages={"required": "Nothing was written. Write the finished size."},
    )  # fmt: skip
    machining = SizeField(
        label="Machining allowance", required=False, signed=True, help_text="In all, on that length. Blank: none."
    )
    within = SizeField(
        label="Measured to within", initial="1/64 in", help_text="Of either length: old wood is rarely better.",
        error_messages={"required": "Nothing was written. Say how closely, such as 1/64 in."},
    )  # fmt: skip
    metal = row_chosen("The metal of the new casting")

    def __init__(self, *args, metals=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["metal"].choices = [("", "Not said"), *((metal, metal.capitalize()) for metal in metals)]


class MassSum(Sum):
    key = "mass"
    mass = MassField(
        label="The pattern weighs", max_length=40, help_text="With its unit: 12.5 kg, or 28 lb.",
        widget=forms.TextInput({"class": "input-short", "autocomplete": "off"}),
        error_messages={"required": "Nothing was written. Weigh the pattern without its core prints."},
    )  # fmt: skip
    of = forms.ChoiceField(label="The pattern is of", error_messages={"required": "Choose what it is made of."})
    casting = forms.ChoiceField(label="The casting is of", error_messages={"required": "Choose the metal."})

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        choices = density_choices()
        for name in ("of", "casting"):
            self.fields[name].choices = [("", "Choose the material"), *choices]

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        return entered | {
            "of_row": _row(Density, entered.get("of")),
            "casting_row": _row(Density, entered.get("casting")),
        }


def _row(model, number):
    return model.objects.by_number(number) if number else None
