"""What to print, and on what: a form for each kind of label."""

from django import forms

from core.web.widgets import DeclaredFields

from ..actions.fields import LocationField
from ..models import Location, Subassembly, Tag
from . import printing
from .label_texts import LabelKind
from .sheets import SHEETS

OWN = "own"
MOST_LINES = 200


class OnASheet(forms.Form):
    """The sheet, common to all of them; each form says in `chosen` what it prints."""

    kind = LabelKind.PIECES
    usual = "a4-3x8"

    sheet = forms.ChoiceField(label="Printed on", choices=[*SHEETS.items(), (OWN, "another layout, written below")])
    layout = forms.CharField(
        label="Another layout",
        required=False,
        max_length=200,
        help_text="For instance a4:cols=3,rows=8,margin=10,gap=2 or roll-50x30, in millimetres. Endless: roll-62.",
    )
    start = forms.IntegerField(
        label="First label to print on",
        required=False,
        min_value=1,
        max_value=3600,
        help_text="For a sheet that is partly used up: 5 leaves the first four alone, counted along the rows.",
        error_messages={"min_value": "Count from 1.", "invalid": "Write a whole number, such as 5."},
    )

    def __init__(self, data=None, *, initial=None, **kwargs):
        super().__init__(data, initial={"sheet": self.usual} | (initial or {}), **kwargs)

    def printed_on(self):
        return [self[name] for name in OnASheet.base_fields]

    def chosen_by(self):
        return [self[name] for name in self.fields if name not in OnASheet.base_fields]

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if entered.get("sheet") == OWN and not entered.get("layout"):
            self.add_error("layout", "Write the layout, or choose a sheet from the list.")
        return entered

    def sheet_words(self) -> str:
        """The layout as `parse_sheet` reads it."""
        entered = self.cleaned_data
        words = entered["layout"].strip() if entered["sheet"] == OWN else entered["sheet"]
        if entered["start"] and entered["start"] > 1:
            words += f"{',' if ':' in words else ':'}start={entered['start']}"
        return words

    @staticmethod
    def as_chosen(sheet: str) -> dict:
        """The fields for a layout that was printed on before, from its first label on."""
        name, _, settings = sheet.partition(":")
        kept = ",".join(word for word in settings.split(",") if word and not word.startswith(("start", "skip")))
        plain = f"{name}:{kept}" if kept else name
        return {"sheet": plain} if plain in SHEETS else {"sheet": OWN, "layout": plain}

    def show(self) -> None:
        """Read what there is to choose from, once the form is shown."""

    def batch(self) -> printing.Batch:
        return printing.Batch(kind=self.kind, sheet=self.sheet_words(), **self.chosen())

    def chosen(self) -> dict:
        raise NotImplementedError


class PiecesForm(OnASheet):
    fields: DeclaredFields
    tags = forms.CharField(
        label="These tags",
        required=False,
        widget=forms.Textarea({"rows": 3, "class": "mono", "autocapitalize": "characters", "autocomplete": "off"}),
        help_text="As printed or in one: 7K3M 9QZ2. As many as you like.",
    )
    lying_in = LocationField(
        label="What lies in", required=False, help_text="A crate or shelf, by its tag or part of its name."
    )
    subassembly = forms.CharField(label="The pieces of", required=False, widget=forms.Select)

    def show(self) -> None:
        self.fields["lying_in"].offer()
        self.fields["subassembly"].widget.choices = [("", "no subassembly"), *_by_locomotive()]

    def clean_subassembly(self):
        number = self.cleaned_data["subassembly"]
        found = Subassembly.objects.by_number(number) if number else None
        if number and found is None:
            raise forms.ValidationError("Choose a subassembly from the list: this one no longer exists.")
        return found

    def clean(self):
        entered = super().clean()
        if not self.errors and not (entered["tags"].strip() or entered["lying_in"] or entered["subassembly"]):
            raise forms.ValidationError("Nothing was chosen: give tags, a crate or a subassembly.")
        return entered

    def chosen(self):
        entered = self.cleaned_data
        codes = [tag.code for tag in printing.tags_of(entered["tags"])]
        if entered["lying_in"]:
            codes += Tag.objects.codes_in(entered["lying_in"])
        if entered["subassembly"]:
            codes += Tag.objects.codes_of_subassembly(entered["subassembly"])
        return {"tags": printing.tags_of(" ".join(codes))}


class BagsForm(PiecesForm):
    kind = LabelKind.BAGS
    usual = "a4-2x7"


class PlacesForm(OnASheet):
    """Places where things lie, whether or not they bear a tag yet."""

    crates = forms.CharField(
        label="Crates, shelves or racks",
        widget=forms.Textarea({"rows": 4, "autocomplete": "off"}),
        help_text="One a line: its tag, its name or its path. One that has no tag yet is given one.",
        error_messages={"required": "Name at least one."},
    )
    inside = forms.BooleanField(label="And everything that stands inside them", required=False)

    def clean_crates(self):
        lines = [" ".join(line.split()) for line in self.cleaned_data["crates"].splitlines() if line.strip()]
        if len(lines) > MOST_LINES:
            raise forms.ValidationError(f"{len(lines)} lines, and {MOST_LINES} is the most.")
        places, wrong = [], []
        for line, found in zip(lines, Location.objects.meant_by_each(lines), strict=True):
            places += found[:1]
            if not found:
                wrong.append(f"No place is called “{line[:60]}”: give its tag, or its name as it is painted on.")
            if len(found) > 1:
                some = "; ".join(place.path for place in found[:3])
                wrong.append(f"“{line[:60]}” could be {some}: write more of it.")
        if wrong:
            raise forms.ValidationError(wrong[: printing.MOST_COMPLAINTS])
        return list(dict.fromkeys(places))

    def chosen(self):
        places = self.cleaned_data["crates"]
        return {"places": Location.objects.with_all_inside(places) if self.cleaned_data["inside"] else places}


class CratesForm(PlacesForm):
    kind = LabelKind.CRATES
    usual = "a4-2x3"

    whole = forms.BooleanField(
        label="The whole list, on further labels where one does not hold it",
        required=False,
        help_text="Otherwise the last line says how many more there are.",
    )

    def chosen(self):
        return super().chosen() | {"whole": self.cleaned_data["whole"]}


class ShelvesForm(PlacesForm):
    kind = LabelKind.SHELVES
    usual = "a4-1x4"


class UnusedForm(OnASheet):
    kind = LabelKind.UNUSED

    count = forms.IntegerField(
        label="How many",
        min_value=1,
        max_value=printing.MOST_LABELS,
        initial=24,
        help_text="Each is tied to a piece or a crate when it is first scanned.",
        error_messages={
            "required": "Say how many.",
            "invalid": "Write a whole number, such as 24.",
            "min_value": "Ask for at least one.",
            "max_value": f"{printing.MOST_LABELS} at once is the most.",
        },
    )

    def chosen(self):
        return {"unused": self.cleaned_data["count"]}


FORMS = {form.kind: form for form in (PiecesForm, BagsForm, CratesForm, ShelvesForm, UnusedForm)}


def _by_locomotive() -> list[tuple[str, list[tuple[int, str]]]]:
    groups: dict[str, list] = {}
    for sub in Subassembly.objects.by_locomotive():
        name = f"{sub.parent.name} / {sub.name}" if sub.parent else sub.name
        groups.setdefault(sub.locomotive.name, []).append((sub.pk, name))
    return list(groups.items())
