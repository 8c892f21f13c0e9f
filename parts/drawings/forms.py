"""Forms of the register of drawings. What they must say the writers ask."""

from django import forms

from core.web.widgets import DeclaredFields

from ..actions.fields import MOST_OFFERED, LocationField, WithChoicesBelow
from ..actions.forms import asked, line, text
from ..common.small_forms import SeenForm, chosen
from ..domain.drawing_words import HowKnown
from ..models import Drawing, Locomotive


def scan_field() -> forms.FileField:
    return forms.FileField(label="Scan or photograph of it", help_text="A PDF, JPEG, PNG or TIFF.", required=False)


class DrawingForm(SeenForm):
    fields: DeclaredFields
    number = asked(line("Number", "As it stands in the title block.", most=80))
    sheet = line("Sheet", "Of several sheets with one number.", most=20)
    issue = line("Issue", "The letter or number of its revision.", most=20)
    title = asked(line("Title", most=200))
    dated = line("Date", "A year such as 1911, or a day such as 1911-03-31. Blank: not known.", most=20)
    original_at = LocationField(
        label="Where the original is kept, at this works", required=False, help_text="A place of the register."
    )
    original = line("Or where else", "County record office, box 12; with whom; lost in the fire of …", most=200)
    note = text("Note", "What is written on it by hand, what is torn off, what it is a copy of.")


class NewDrawing(DrawingForm):
    scan = scan_field()


class ScanForm(forms.Form):
    use_required_attribute = False
    scan = asked(scan_field())


class GoodForForm(forms.Form):
    use_required_attribute = False
    locomotive = forms.ModelChoiceField(
        Locomotive.objects.order_by("name"), label="Good for", required=False, empty_label="none of ours"
    )
    words = line("Or which others", "The whole class, a number, another railway's.", most=120)
    how = chosen("How that is known", [(how.value, how.capitalize()) for how in HowKnown])
    note = line("What makes you say so", "Which words on it, what was measured, who told it.", most=300)


class ShowsForm(forms.Form):
    """Which drawing shows a place."""

    use_required_attribute = False
    number = asked(line("Number of the drawing", most=140, widget=WithChoicesBelow))

    def offer(self):
        self.fields["number"].widget.offered = [str(drawing) for drawing in Drawing.objects.all()[:MOST_OFFERED]]

    def clean_number(self):
        typed = self.cleaned_data["number"]
        found = Drawing.objects.meant_by(typed)
        if len(found) == 1:
            return found[0]
        if not found:
            raise forms.ValidationError("No drawing of that number is in the register. Enter it first.")
        some = "; ".join(str(each) for each in found[:3])
        raise forms.ValidationError(f"Several have that number: {some}. Write the sheet and the issue behind it.")


class ConflictForm(forms.Form):
    """What each drawing of a place says of one matter: a line for each."""

    use_required_attribute = False
    about = asked(line("What they disagree about", "Bore, length, number of holes, material …", most=120))

    def __init__(self, *args, drawings, **kwargs):
        super().__init__(*args, **kwargs)
        self.drawings = drawings
        for drawing in drawings:
            self.fields[f"says_{drawing.pk}"] = line(f"{drawing} says", drawing.title, most=300)
        self.fields["note"] = text("Note")

    def entered(self) -> dict:
        told = self.cleaned_data
        sides = [(drawing, told[f"says_{drawing.pk}"]) for drawing in self.drawings]
        return {"about": told["about"], "note": told["note"], "sides": sides}


class SettleForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    settled = asked(text("Which holds, and why"))
    rests_on = forms.ModelChoiceField(
        Drawing.objects.none(), label="It rests on", required=False, empty_label="none of them: it was measured"
    )

    def __init__(self, *args, conflict, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["rests_on"].queryset = Drawing.objects.filter(sides__conflict=conflict)
