"""Forms by which a piece enters the register, is described, chooses its place, is split, or gets another tag."""

from django import forms

from core.web.widgets import DeclaredFields
from inspections.domain.masses import exact_kg, parse_mass
from inspections.domain.quantities import QuantityError
from parts.actions.fields import PieceField, tag_code, whole
from parts.common.small_forms import SeenForm

from ..actions.fields import LocationField, ThingField
from ..actions.forms import day, line
from ..domain.words import Origin, Side
from ..models import Component, Locomotive

ORIGINS = [(origin.value, origin.capitalize()) for origin in Origin]
SIDES = [(Side.NONE.value, "None, or not known"), (Side.LH.value, "LH"), (Side.RH.value, "RH")]


class EnterPiece(forms.Form):
    """A piece comes off, or a second-hand one comes in."""

    fields: DeclaredFields
    use_required_attribute = False
    name = forms.CharField(label="What it is", max_length=160, error_messages={"required": "Name it in a few words."})
    code = tag_code("Scan it with the phone's camera, or type the eight characters. Blank: a new one is issued.")
    location = LocationField(label="Where it goes now", required=False, help_text="A crate's tag, or its name.")
    marks = line("Marks found on it", "Stamped numbers, punch marks, painted words, as they stand.")
    way_round = line("Which way round it was", "Top, front, which face outward.")
    packing = line("Packing and shims as found", "How many, how thick, where.")
    quantity = whole("How many", initial=1)

    ESSENTIAL = frozenset({"name", "code", "location", "quantity", "locomotive", "cast_number", "promised"})
    """What is asked at once; everything else can follow, and is folded away."""

    def at_once(self) -> list:
        return [field for field in self if field.name in self.ESSENTIAL]

    def can_follow(self) -> list:
        return [field for field in self if field.name not in self.ESSENTIAL]

    def wrong_below(self) -> bool:
        return any(field.errors for field in self.can_follow())

    def described(self) -> dict:
        kept = ("marks", "way_round", "packing", "works_number", "origin", "origin_evidence", "owner", "cast_number")
        return {name: self.cleaned_data[name] for name in (*kept, "papers") if self.cleaned_data.get(name)}

    def __init__(self, *args, place=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["location"].offer()
        if place is not None and place.quantity == 1:
            self.fields["quantity"].widget = forms.HiddenInput()


class ComeOff(EnterPiece):
    works_number = line("The works' own tag number", most=60)


class ComeIn(EnterPiece):
    """A second-hand piece, one from another locomotive, or one whose place nobody knows yet."""

    locomotive = forms.ModelChoiceField(
        Locomotive.objects.all(), label="For which locomotive", required=False, empty_label="Not chosen yet",
        error_messages={"invalid_choice": "Choose a locomotive from the list."},
    )  # fmt: skip
    origin = forms.ChoiceField(label="Origin", choices=ORIGINS, initial=Origin.UNKNOWN.value, required=False)
    origin_evidence = line("How that is known", most=300)
    owner = line("Owner", most=120)
    works_number = line("The works' own tag number", most=60)


class Begin(EnterPiece):
    """A new piece, from its casting or plate on."""

    cast_number = line("Cast or plate number", most=80)
    papers = line("Material papers", "The certificate's number, if it is there already.")
    promised = day("Promised back", "Only if it is being made at another firm.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in ("way_round", "packing"):
            del self.fields[name]


class Describe(forms.ModelForm):
    """What was seen on a piece."""

    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    mass = line(
        "Mass of one", "With its unit: 12.5 kg, or 3 cwt 2 qr 14 lb. Say below whether it was weighed.", most=40
    )

    class Meta:
        model = Component
        fields = (
            "name", "marks", "side", "way_round", "packing", "works_number", "cast_number", "papers", "origin",
            "origin_evidence", "owner", "notes",
        )  # fmt: skip
        error_messages = {"name": {"required": "Name it in a few words."}}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["origin"] = forms.ChoiceField(label="Origin", choices=ORIGINS)
        self.fields["side"] = forms.ChoiceField(
            label="Its own side", choices=SIDES, required=False, widget=forms.RadioSelect,
            help_text="Looking forward from the footplate.",
        )  # fmt: skip
        self.fields["origin_evidence"].label = "How its origin is known"
        self.fields["notes"].widget.attrs["rows"] = 3
        self.order_fields([*(name for name in self.fields if name not in ("mass", "notes")), "mass", "notes"])
        if self.instance.mass_kg is not None:
            self.fields["mass"].initial = f"{self.instance.mass_kg.normalize():f} kg"

    def clean_mass(self):
        typed = self.cleaned_data["mass"]
        try:
            return exact_kg(parse_mass(typed)) if typed else None
        except QuantityError as error:
            raise forms.ValidationError(str(error)) from None

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if "mass" in entered:
            entered["mass_kg"] = entered.pop("mass")
        return entered

    def _post_clean(self):
        """The action writes it; the row in hand stays as it was read."""


class Split(forms.Form):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    quantity = whole("How many go their own way")


class TieAnother(forms.Form):
    """Another tag for a piece, because the old one is lost or unreadable."""

    use_required_attribute = False
    code = tag_code("An unused tag from the printed roll.")


class TieTo(forms.Form):
    """What an unused tag is to hang on."""

    use_required_attribute = False
    thing = ThingField(
        label="What it hangs on", error_messages={"required": "Nothing was written."},
        help_text="The tag that the piece or crate bears now, or the crate's name. The old tag still leads to it.",
    )  # fmt: skip


class Replaces(SeenForm):
    replaces = PieceField(label="It replaces", required=False, help_text="The old piece's tag. Blank: none.")
