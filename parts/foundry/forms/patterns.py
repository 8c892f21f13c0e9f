"""Forms of patterns, core boxes and jigs, and of the figures that their sums stand on."""

from django import forms

from inspections.domain.contractions import ContractionError, read_contraction
from parts.actions.fields import FigureField, LocationField, PieceField, tag_code
from parts.actions.forms import asked, day, line, override_field, text
from parts.common.small_forms import SeenForm, chosen
from parts.domain.pattern_words import PatternKind, PatternState
from parts.models import Contraction, Density, Firm, Pattern

NOTHING = {"required": "Name it in a few words."}


class ContractionField(forms.CharField):
    """`1/8 in per foot` and its like; the exact ratio, or None. What was typed stays in the form's data."""

    def __init__(self, label="Contraction", help_text="", **kwargs):
        widget = forms.TextInput({"class": "input-short", "autocomplete": "off"})
        options = {"label": label, "help_text": help_text, "max_length": 60, "required": False, "widget": widget}
        super().__init__(**options | kwargs)

    def clean(self, value):
        typed = super().clean(value)
        if not typed:
            return None
        try:
            return read_contraction(typed)
        except ContractionError as trouble:
            raise forms.ValidationError(str(trouble)) from None


class PatternForm(SeenForm):
    kind = chosen("What it is", [(kind.value, kind.capitalize()) for kind in PatternKind])
    name = forms.CharField(
        label="What it makes", max_length=160, help_text="Such as: axlebox, or cylinder, RH.", error_messages=NOTHING
    )
    goes_with = forms.ModelChoiceField(
        Pattern.objects.none(), label="Goes with", required=False, empty_label="None: it is used alone",
        help_text="Of a core box or a loose part: the pattern that it belongs to.",
        error_messages={"invalid_choice": "Choose one of these."},
    )  # fmt: skip
    drawing = line("Drawing number", most=120)
    marks = line("Marks on it", "Numbers, letters and paint, as they stand.")
    owner = line("Owner", "Blank: ours.", most=120)
    condition = text("Its condition", "Rot, worm, loose pieces, worn edges, what is missing.")
    allows = ContractionField(
        "Contraction it was made with", "If it is known, such as 1/8 in per foot. A double contraction: both added."
    )
    allows_known = line("How that is known", "Written on it, by measuring, by tradition.")
    made_before = forms.IntegerField(
        label="Castings made before our time", min_value=0, max_value=100_000, required=False,
        widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
        error_messages={"invalid": "Write a whole number.", "min_value": "Write 0 or more.",
                        "max_value": "That is more than one pattern lasts."},
    )  # fmt: skip
    made_before_note = line("What is known of them", "For which locomotives, when, by whom.", most=300)
    reference = PieceField(
        label="Made after",
        required=False,
        help_text="The tag of the piece that it was made after, or is checked against.",
    )

    def __init__(self, *args, pattern=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["goes_with"].queryset = Pattern.objects.heads(but=pattern)

    def entered(self) -> dict:
        found = super().entered()
        ratio = found["allows"]
        return found | {
            "allows": "" if ratio is None else str(ratio),
            "allows_as_written": ""
            if ratio is None
            else " ".join(self["allows"].data.split()),  # so that it is read again
            "kind": found["kind"] or PatternKind.PATTERN.value,
        }


class PatternAdd(PatternForm):
    code = tag_code("Scan it with the phone's camera, or type the eight characters. Blank: a new one is issued.")
    location = LocationField(label="Where it lies", required=False, help_text="A place's tag, or its name.")

    field_order = ("seen", "kind", "name", "code", "location", "goes_with", "drawing", "marks", "owner", "condition")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["location"].offer()


class PatternTo(SeenForm):
    """It goes to another state. Which fields are asked depends on the state."""

    remark = asked(text("Remark"))
    firm = asked(
        forms.ModelChoiceField(
            Firm.objects.none(), label="Foundry", required=False, empty_label="Choose the firm",
            error_messages={"invalid_choice": "Choose a firm from the list."},
        )
    )  # fmt: skip
    promised = day("Promised back")
    location = LocationField(label="Where it lies now", required=False, help_text="A place's tag, or its name.")
    condition = text("Its condition now", "As it stands after this.")

    ASKS = {
        PatternState.CHECKED: ("What was looked at and measured", ("remark", "condition", "location")),
        PatternState.MENDED: ("What was done to it", ("remark", "condition", "location")),
        PatternState.AS_FOUND: ("What is wrong with it", ("remark", "condition", "location")),
        PatternState.AT_FOUNDRY: ("Remark", ("firm", "promised", "remark")),
        PatternState.BACK: ("Remark", ("location", "remark", "condition")),
        PatternState.WITHDRAWN: ("Why, and where it goes", ("remark", "location")),
    }

    def __init__(self, *args, pattern, to, depended=(), may_pass=False, **kwargs):
        super().__init__(*args, **kwargs)
        label, kept = self.ASKS[to]
        for name in set(self.fields) - {*kept, "seen"}:
            del self.fields[name]
        self.order_fields(("seen", *kept))
        self.fields["remark"].label = label
        self.fields["remark"].asked = label != "Remark"
        if "firm" in kept:
            self.fields["firm"].queryset = Firm.objects.in_use()
        if "location" in kept:
            self._where(pattern, to)
        if depended:
            self.fields["confirmed"] = forms.BooleanField(
                label="I have read what depends on it", required=False, help_text=" ".join(depended)
            )
        if may_pass:
            self.fields["override"] = override_field()

    def _where(self, pattern, to):
        field = self.fields["location"]
        field.offer()
        if to is PatternState.BACK:
            field.asked = True
            field.initial = pattern.normal_location and pattern.normal_location.path
        elif to is PatternState.WITHDRAWN:
            field.label, field.help_text = "Where it is kept now", "Blank: it is gone."
        else:
            field.initial = pattern.location and pattern.location.path

    def entered(self) -> dict:
        found = super().entered()
        if "promised" in found:
            found["promised_back"] = found.pop("promised")
        return found


class PatternMove(SeenForm):
    to = LocationField(
        label="Where to", help_text="A place's tag, or part of its name.",
        error_messages={"required": "Nothing was written. Say where it goes."},
    )  # fmt: skip
    remark = line("Remark")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["to"].offer()


class CastingForm(forms.Form):
    use_required_attribute = False
    piece = PieceField(
        label="Piece that was made from it", help_text="Its tag.",
        error_messages={"required": "Nothing was written. Give the tag of the piece."},
    )  # fmt: skip


class ChoosePattern(SeenForm):
    pattern = forms.ModelChoiceField(
        Pattern.objects.none(), label="Pattern", required=False, empty_label="None",
        help_text="Its core boxes go with it. One that is not here yet is entered under Patterns first.",
        error_messages={"invalid_choice": "Choose one of these."},
    )  # fmt: skip

    def __init__(self, *args, place, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["pattern"].queryset = Pattern.objects.to_choose()
        own = set(place.patterns.values_list("pk", flat=True))
        named = [(p.pk, f"{p} {p.code or ''}, {p.state}".replace(" ,", ",")) for p in Pattern.objects.to_choose()]
        first = [choice for choice in named if choice[0] in own]
        others = [choice for choice in named if choice[0] not in own]
        groups = [("For this place", first)] * bool(first) + [("Others", others)] * bool(others)
        self.fields["pattern"].choices = [("", "None"), *groups]


class FigureForm(forms.Form):
    """What both kinds of figure carry."""

    use_required_attribute = False
    as_written = forms.CharField(
        label="As the source writes it", max_length=120, required=True,
        error_messages={"required": "Write the figure and its unit as printed there."},
    )  # fmt: skip
    source = forms.CharField(
        label="Source", max_length=300, help_text="Author and title, the foundry's sheet, or your own trial castings.",
        error_messages={"required": "Nothing was written. Without a source there is no figure."},
    )  # fmt: skip
    edition = line("Edition and page", most=120)
    from_memory = forms.BooleanField(label="From memory: I have not read it there", required=False)
    note = line("Note", "For which alloys or shapes it is meant.", most=300)


class ContractionForm(FigureForm):
    metal = forms.CharField(label="Metal", max_length=80, error_messages=NOTHING)
    ratio = ContractionField(
        "The figure to calculate with", "Such as 1/8 in per foot, or 1.04 %. Blank where the source gives a range."
    )

    field_order = ("metal", "as_written", "ratio", "source", "edition", "from_memory", "note")


class DensityForm(FigureForm):
    material = forms.CharField(label="Metal or timber", max_length=80, error_messages=NOTHING)
    kg_m3 = FigureField(
        label="The figure, in kg per cubic metre", max_digits=9, decimal_places=3,
        help_text="1000 times the figure in g/cm³.",
        error_messages={"required": "Nothing was written. Write a number such as 7200.",
                        "invalid": "Write a number such as 7200.",
                        "max_digits": "Write a number such as 7200.",
                        "max_whole_digits": "Write a number such as 7200.",
                        "max_decimal_places": "Three figures behind the point are the most."},
    )  # fmt: skip

    field_order = ("material", "as_written", "kg_m3", "source", "edition", "from_memory", "note")


class StrikeOut(forms.Form):
    use_required_attribute = False
    why = asked(text("Why strike it out"))


def contraction_choices() -> list:
    """The rows to reckon with, metal by metal."""
    return _grouped(Contraction.objects.in_force(), "metal")


def density_choices() -> list:
    return _grouped(Density.objects.in_force(), "material")


def _grouped(rows, by):
    groups: dict[str, list] = {}
    for row in rows:
        if row.exact is not None:
            memory = ", from memory" if row.from_memory else ""
            words = f"{getattr(row, by)}: {row.as_written} ({row.source[:60]}{memory})"
            groups.setdefault(getattr(row, by), []).append((row.pk, words))
    return [(name.capitalize(), choices) for name, choices in groups.items()]
