"""What a crack check showed: one small form for each indication, tapped on a photo or told in words."""

from decimal import Decimal, InvalidOperation
from typing import cast

from django import forms

from core.web.widgets import DeclaredFields
from inspections.domain.indications import level_named
from inspections.domain.lengths import LengthError, parse_length
from inspections.records.writers.crack_checks import Mark, row_of

from ..crack_record import told

MOST = 60
PLACE = Decimal("0.0001")
UNITS = [("mm", "mm"), ("in", "in"), ("", "as written")]
CRACK = [("yes", "A crack, or may be one"), ("no", "No crack")]


class MarkForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    photo = forms.CharField(required=False, max_length=40, widget=forms.HiddenInput)
    across = forms.CharField(required=False, max_length=24, widget=forms.HiddenInput)
    down = forms.CharField(required=False, max_length=24, widget=forms.HiddenInput)
    length = forms.CharField(label="Length", required=False, max_length=40)
    width = forms.CharField(label="Width (0 if too fine)", required=False, max_length=40)
    unit = forms.ChoiceField(label="Unit", required=False, choices=UNITS, initial="mm")
    where = forms.CharField(label="Where", required=False, max_length=200)
    crack = forms.ChoiceField(label="What it is", required=False, choices=CRACK, initial="yes")

    def __init__(self, *args, photos, **kwargs):
        super().__init__(*args, **kwargs)
        self.photos, self.row = photos, None
        for name in ("length", "width", "unit", "crack"):
            self.fields[name].asked = True

    @property
    def blank(self) -> bool:
        """An indication that was begun and says nothing is left out."""
        entered = self.cleaned_data
        return not any(entered.get(name, "").strip() for name in ("photo", "length", "width", "where"))

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if self.errors or self.blank:
            return entered
        entered["photo_row"], entered["at"] = self._on_photo()
        if not entered.get("where", "").strip() and entered["photo_row"] is None and not self.errors:
            self.add_error("where", "Tap it on a photo, or describe where it is.")
        if not entered["length"].strip():
            self.add_error("length", "Nothing was written. Give its length with the unit.")
        for name in ("length", "width"):
            self._read(name)
        return entered

    def _read(self, name):
        typed = self.cleaned_data.get(name, "").strip()
        try:
            if typed:
                parse_length(typed, self.cleaned_data["unit"] or None)
        except LengthError as error:
            self.add_error(name, str(error))

    def _on_photo(self):
        entered = self.cleaned_data
        if not entered["photo"]:
            return None, (None, None)
        photo = self.photos.get(entered["photo"])
        at = tuple(share(entered[name]) for name in ("across", "down"))
        if photo is None or None in at:
            self.add_error("where", "Its mark is not on a photo of this piece. Tap it again, or describe where.")
            return None, (None, None)
        return photo, at

    def mark(self) -> Mark:
        entered = self.cleaned_data
        return Mark(
            length=entered["length"], width=entered["width"], unit=entered["unit"], where=entered["where"],
            crack=entered["crack"] != "no", photo=entered["photo_row"], across=entered["at"][0], down=entered["at"][1],
        )  # fmt: skip


class Marks(forms.BaseFormSet):
    """All of them, numbered as they stand. After `is_valid`, `marks` are those to be signed."""

    @property
    def marks(self) -> list[Mark]:
        return [form.mark() for form in self.forms if not form.blank]

    def as_typed(self) -> list[dict]:
        return [{name: form[name].data or "" for name in form.fields} for form in self.forms]

    def judge(self, level: str) -> list[str]:
        """What will be on record of each, both units and the verdict; a size that cannot be is said at its field."""
        chosen, sentences, number = level_named(level) if level else None, [], 0
        for form in self.forms:
            if form.blank or form.errors:
                continue
            number += 1
            try:
                form.row = row_of(number, form.mark(), chosen)
            except ValueError as error:
                form.add_error("width" if "width" in str(error) else "length", str(error))
                continue
            form.echo = told(form.row, form.cleaned_data["unit"] or "mm")
            sentences.append(form.echo)
        return sentences


MarksFormSet = forms.formset_factory(MarkForm, formset=Marks, extra=0, max_num=MOST, absolute_max=MOST)


def marks_form(data=None, *, photos, **kwargs) -> Marks:
    # Its class is made by Django while it runs, from the two above.
    return cast(Marks, MarksFormSet(data, prefix="mark", form_kwargs={"photos": photos}, **kwargs))


def share(typed: str) -> Decimal | None:
    """How far across or down the photo, of 1; None if it is no such figure."""
    try:
        value = Decimal(typed)
    except InvalidOperation:
        return None
    return value.quantize(PLACE) if value.is_finite() and 0 <= value <= 1 else None
