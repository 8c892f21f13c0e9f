"""Forms of fits: which two sizes, what is wanted of them and what is allowed."""

from fractions import Fraction
from itertools import groupby

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.forms import asked, day, line, text

from ..domain.iso_fits import fit_um
from ..domain.lengths import LengthError, parse_length
from ..limits.forms import CHOOSE, size
from ..models import Dimension
from ..models.dimensions import UNITS

KINDS = [("running", "It runs: there is clearance"), ("press", "It is pressed or shrunk on: there is interference")]
CLEARANCES = ("least", "most", "shop_least", "shop_most", "scrapping_most")
BELOW = "Below zero is interference: -0.05 mm."


class FitLimitsForm(forms.Form):
    """Wanted as an ISO 286 code at a size, or as the least and the most clearance."""

    fields: DeclaredFields
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    kind = asked(forms.ChoiceField(label="Kind", choices=KINDS, widget=forms.RadioSelect, error_messages=CHOOSE))
    unit = asked(forms.ChoiceField(label="Unit", choices=UNITS, widget=forms.RadioSelect, error_messages=CHOOSE))
    code = line("Fit wanted, by ISO 286", "H7/f7: the hole in capitals, the shaft in small letters.", most=20)
    nominal = size("At the nominal size", "The size that both go by: 125 mm, 5 in.")
    least = size("Or: least clearance wanted", BELOW)
    most = size("Most clearance wanted")
    shop_least = size("Least clearance allowed in service", "Blank: the clearance as new is the limit.")
    shop_most = size("Most clearance allowed in service", "Blank: the clearance as new is the limit.")
    scrapping_most = size("Most clearance at all", "No concession is given beyond it. Blank: no such limit.")
    source = asked(line("Where it comes from", "Drawing, limit sheet or law."))
    source_edition = asked(line("Its edition", "Issue, date or edition.", most=80))

    def clean(self):
        entered = self.cleaned_data
        unit = entered.get("unit")
        if not unit:
            return entered  # said beside the unit itself
        for name in CLEARANCES:
            entered[name] = self._read(name, unit, signed=True)
        nominal = self._read("nominal", unit)
        if (entered.get("code") or "").strip():
            self._by_code(nominal)
        elif nominal is not None:
            self.add_error("nominal", "A size without a fit. Write the fit, as in H7/f7, or leave the size blank.")
        return entered

    def _read(self, name, unit, signed=False) -> Fraction | None:
        typed = (self.cleaned_data.get(name) or "").strip()
        try:
            return parse_length(typed, unit, signed=signed) if typed else None
        except LengthError as error:
            self.add_error(name, str(error))
            return None

    def _by_code(self, nominal):
        entered = self.cleaned_data
        if entered["least"] is not None or entered["most"] is not None:
            self.add_error("code", "The clearance wanted is given twice. Give the fit or the two clearances, not both.")
            return
        if nominal is None:
            if "nominal" not in self.errors:
                self.add_error("nominal", "Nothing was written. A fit has its clearance at a size: write it.")
            return
        hole, _, shaft = entered["code"].replace(" ", "").partition("/")
        try:
            least, most = fit_um(hole, shaft, nominal)
        except ValueError as error:
            self.add_error("code", f"{error} Write hole and shaft, as in H7/f7.")
            return
        entered |= {"least": least / 1000, "most": most / 1000}

    def given(self) -> dict:
        """As the writers take it; the code with the size that it was read at."""
        entered = {name: self.cleaned_data[name] for name in ("kind", "unit", *CLEARANCES, "source", "source_edition")}
        code = self.cleaned_data["code"].replace(" ", "")
        return entered | {"code": code}


class AddFit(FitLimitsForm):
    name = asked(line("Name", "What runs in what: journal in brass, LH leading.", most=160))
    hole = forms.ChoiceField(label="The hole: bore, brass, bush, boss", required=False, error_messages=CHOOSE)
    shaft = forms.ChoiceField(
        label="The shaft: journal, pin, wheel seat, slide bar", required=False, error_messages=CHOOSE
    )
    field_order = ("name", "hole", "shaft")

    def __init__(self, *args, sizes: list[Dimension], **kwargs):
        super().__init__(*args, **kwargs)
        self.sizes = {str(one.pk): one for one in sizes}
        self.fields["hole"].choices = _by_place(sizes, but="smaller")
        self.fields["shaft"].choices = _by_place(sizes, but="larger")
        asked(self.fields["hole"])
        asked(self.fields["shaft"])

    def clean(self):
        super().clean()
        for name in ("hole", "shaft"):
            if name in self.cleaned_data:
                self.cleaned_data[name] = self.sizes.get(self.cleaned_data[name])
                if self.cleaned_data[name] is None:
                    self.add_error(name, "None chosen. Choose the size on its place.")
        return self.cleaned_data


def _by_place(sizes: list[Dimension], but: str) -> list:
    """A hole does not get smaller with wear, nor a shaft larger."""
    there = [one for one in sizes if one.wears != but]
    grouped = groupby(there, key=lambda one: one.position)
    return [
        ("", "Choose a size"),
        *((place.words, [(one.pk, f"{place.words}: {one}") for one in ones]) for place, ones in grouped),
    ]


class ProposedFits(FitLimitsForm):
    """Pairs that are sure by their names, given the same limits."""

    pairs = forms.MultipleChoiceField(
        label="Pairs", required=False, widget=CheckboxList,
        error_messages={"invalid_choice": "A pair in the list has gone since. Open the page again."},
    )  # fmt: skip
    field_order = ("pairs",)

    def __init__(self, *args, proposed, **kwargs):
        super().__init__(*args, **kwargs)
        self.proposed = {f"{one.hole} {one.shaft}": one for one in proposed}
        self.fields["pairs"].choices = [(key, one.name) for key, one in self.proposed.items()]
        self.fields["pairs"].initial = list(self.proposed)
        asked(self.fields["pairs"])

    def clean_pairs(self):
        if not self.cleaned_data["pairs"]:
            raise forms.ValidationError("Tick the pairs to check.")
        return self.cleaned_data["pairs"]

    def chosen(self):
        return [self.proposed[key] for key in self.cleaned_data["pairs"]]


class ConcedeFit(forms.Form):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    reason = asked(text("Reason", "Why the pair may run as it is."))
    look_again = asked(day("Look again on"))
    paper = line("The inspecting body’s paper", "Needed on a pressure part.")
