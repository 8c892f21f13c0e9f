"""Forms of plate and bar: received, cut, welded up."""

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.fields import LocationField, tag_code, whole
from parts.actions.forms import asked, line
from parts.models import Renewal


class StockForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    name = forms.CharField(
        label="What it is", max_length=160, error_messages={"required": "Name it in a few words."},
        help_text="Such as: steel plate, 1/2 in.",
    )  # fmt: skip
    cast_number = asked(line("Plate or bar number", "As stamped on it, or on its certificate.", most=80))
    papers = line("Material certificate", most=200)
    quantity = whole("How many", initial=1)
    code = tag_code("Scan it with the phone's camera, or type the eight characters. Blank: a new one is issued.")
    location = LocationField(label="Where it lies", required=False, help_text="A place's tag, or its name.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["location"].offer()


class CutForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    name = forms.CharField(label="What is cut", max_length=160, error_messages={"required": "Name it in a few words."})
    quantity = whole("How many", initial=1)
    renewal = forms.ModelChoiceField(
        Renewal.objects.none(), label="For which renewal", required=False,
        empty_label="None yet: it is welded up with others, or let in by a repair",
        error_messages={"invalid_choice": "Choose one of these."},
    )  # fmt: skip
    code = tag_code("Blank: a new one is issued.")

    def __init__(self, *args, renewals, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["renewal"].queryset = renewals


class WeldUpForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    pieces = asked(
        forms.MultipleChoiceField(
            label="Pieces that are joined", required=False, widget=CheckboxList,
            error_messages={"invalid_choice": "Choose from the list."},
        )
    )  # fmt: skip
    name = forms.CharField(
        label="What they become", max_length=160,
        error_messages={"required": "Name it in a few words."},
    )  # fmt: skip
    procedure = asked(line("Weld procedure", most=120))
    welder = asked(line("Welder", most=120))
    code = tag_code("Blank: a new one is issued.")

    def __init__(self, *args, cut, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["pieces"].choices = [(p.pk, f"{p.name} {p.code or ''} ({p.cast_number})") for p in cut]
