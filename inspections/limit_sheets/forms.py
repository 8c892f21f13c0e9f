"""Forms of limit sheets: attaching a row to places, finding the row of a table, importing a railway's own."""

from django import forms

from core.web.widgets import DeclaredFields
from parts.actions.forms import asked, line, text
from parts.models import Locomotive

from ..domain import shipped_sheet as shipped
from ..domain.attaching import How, read_original
from ..domain.lengths import LengthError, parse_length
from ..limits.forms import PlacesForm, size


class AttachForm(PlacesForm):
    """`row` decides what is asked: the original size, the track gauge, or nothing but the places."""

    name = line("Name of the size on these places", most=120)
    original = size("Original size, when new", "8 in, or with its tolerance 8 in +0 -0.002. The same at every place.")
    gauge = size("Track gauge", "Between the rails: 3 ft 6 in, 600 mm.")

    field_order = ("name", "original", "gauge", "places")

    def __init__(self, *args, row, british=False, **kwargs):
        super().__init__(*args, **kwargs)
        self.row = row
        self.fields["name"].initial = shipped.size_name(row.item, row.applies_to, row.kind, british=british)[:120]
        self.fields["name"].help_text = "Where a place has a size of this name, it gets a new edition of its limits."
        for name, kind in (("original", How.LOSS), ("gauge", How.BELOW_GAUGE)):
            asked(self.fields[name])
            if row.kind != kind:
                del self.fields[name]

    def clean_original(self):
        return self._read(read_original, self.cleaned_data["original"])

    def clean_gauge(self):
        return self._read(parse_length, self.cleaned_data["gauge"])

    def _read(self, reader, typed):
        if not typed.strip():
            raise forms.ValidationError("Nothing was written. Give it with its unit.")
        try:
            return reader(typed, self.row.unit)
        except LengthError as error:
            raise forms.ValidationError(str(error)) from None

    def clean_places(self):
        if not self.cleaned_data["places"]:
            raise forms.ValidationError("Tick the places that get this limit.")
        return self.cleaned_data["places"]

    def given(self) -> dict:
        return {"name": self.cleaned_data["name"]} | {
            as_named: self.cleaned_data[name]
            for name, as_named in (("original", "original"), ("gauge", "gauge_mm"))
            if name in self.fields
        }


class FitsForm(PlacesForm):
    """The pairs whose allowed clearance a row is."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, told=lambda fit: fit.name, **kwargs)
        self.fields["places"].label = "Fits"

    def clean_places(self):
        if not self.cleaned_data["places"]:
            raise forms.ValidationError("Tick the fits that get this limit.")
        return self.cleaned_data["places"]


class WhereForm(forms.Form):
    """Of which locomotive the places are offered, and by which words."""

    locomotive = forms.ModelChoiceField(
        Locomotive.objects.all(), to_field_name="slug", empty_label=None, label="Locomotive"
    )
    words = line("Other places, by words", "Name, side, axle: LH driving.", most=100)


NUMBER = {"invalid": "Write a number, such as 38000.", "min_value": "It must be above zero.", "max_value": "Too large."}
INCHES = NUMBER | {"invalid": "Write a number of inches, such as 50.5."}


class LoadForm(forms.Form):
    """What the two tables of the published sheet are read by."""

    use_required_attribute = False
    load = forms.DecimalField(
        label="Load on one axle, in pounds", min_value=1, max_value=200_000, error_messages=NUMBER | {
            "required": "Nothing was written. For drivers: the weight on drivers over the number of driving axles."
        },
        widget=forms.TextInput({"inputmode": "decimal", "class": "input-short"}),
    )  # fmt: skip
    centre = forms.DecimalField(
        label="Diameter of the wheel centre, in inches", min_value=1, max_value=200, required=False, decimal_places=4,
        help_text="For the thickness of a tyre. Blank for a tender axle.", error_messages=INCHES,
        widget=forms.TextInput({"inputmode": "decimal", "class": "input-short"}),
    )  # fmt: skip

    def band(self) -> str:
        """The end of the items that hold, or a ValueError."""
        load, centre = self.cleaned_data["load"], self.cleaned_data["centre"]
        return shipped.axle_band(load) if centre is None else shipped.tire_band(load, centre)


class ImportForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    name = asked(line("Name of the sheet", "Wheel and axle limits.", most=160))
    edition = asked(line("Edition", "Issue, date or number. A later one is added beside it.", most=80))
    source = asked(line("Who published it"))
    jurisdiction = text("Where it holds", "On which railway, for which engines. Shown beside the sheet.")
    file = forms.FileField(
        label="The sheet",
        help_text="An Excel workbook (.xlsx) or a CSV file, one row for each limit.",
        error_messages={
            "required": "No file was chosen. Choose the sheet.",
            "empty": "The file is empty. Choose a sheet whose first row names the columns.",
            "max_length": "The file's name is too long. Rename it.",
        },
        max_length=200,
        widget=forms.FileInput({"accept": ".csv,.xlsx,text/csv"}),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["jurisdiction"].max_length = 300

    def clean(self):
        for name in ("name", "edition", "source"):
            if name in self.cleaned_data and not self.cleaned_data[name].strip():
                self.add_error(name, "Nothing was written. A limit says where it comes from.")
        if len(self.cleaned_data.get("jurisdiction") or "") > 300:
            self.add_error("jurisdiction", "It has more than 300 letters. Shorten it.")
        return self.cleaned_data
