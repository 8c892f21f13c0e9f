"""Forms of the sizes of a place and of their limits. Sizes are kept as typed; the writers read them."""

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.forms import asked, line
from parts.structure.forms import Lines

from ..domain.classes import Wears
from ..domain.two_units import in_unit
from ..domain.verdicts import Rule
from ..models.dimensions import UNITS
from ..records.forms import CHOOSE
from .writers import Typed

WEARS = [
    (Wears.SMALLER.value, "It gets smaller with wear: a journal, a pin, a tyre"),
    (Wears.LARGER.value, "It gets larger with wear: a bore, a bush, a slot"),
    (Wears.EITHER.value, "It may go either way"),
]
RULES = [
    (Rule.GUARDED.value, "Count the uncertainty of the instrument: too near to a limit is not proved"),
    (Rule.SIMPLE.value, "Take the figure as read"),
]
ITSELF_FAILS = "The value exactly on it fails (“at or over”)"


def exactly(mm, unit: str) -> str:
    """A size as it would be typed, in its unit or in mm; blank where it has no end of figures in either."""
    told = [] if mm is None else [in_unit(mm, one, 9) for one in (unit, "mm")]
    return next((text for text in told if not text.startswith("about")), "")


def size(label: str, help_text: str = "") -> forms.CharField:
    return line(label, help_text, most=80, widget=forms.TextInput({"autocomplete": "off"}))


class LimitsForm(forms.Form):
    """What a size is judged by. Of a single limit the writer knows the side by the way of wear."""

    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    drawing = size("Drawing size with its tolerance", "2 1/2 in H7, or 63.5 ±0.05 mm, or 5 in +0.000 -0.002.")
    shop = size("Shop limit", "As far as it may wear and go back in service, on the side to which it wears.")
    scrapping = size("Scrapping limit", "Beyond it the piece is not used, whatever is decided.")
    shop_lower = size("Shop limit, least")
    shop_upper = size("Shop limit, most")
    scrapping_lower = size("Scrapping limit, least")
    scrapping_upper = size("Scrapping limit, most")
    shop_open = forms.BooleanField(label=f"Shop limit: {ITSELF_FAILS[0].lower()}{ITSELF_FAILS[1:]}", required=False)
    scrapping_open = forms.BooleanField(
        label=f"Scrapping limit: {ITSELF_FAILS[0].lower()}{ITSELF_FAILS[1:]}", required=False
    )
    rule = forms.ChoiceField(
        label="How a figure near to a limit is judged", choices=RULES, widget=forms.RadioSelect,
        initial=Rule.GUARDED.value, error_messages=CHOOSE,
    )  # fmt: skip
    source = asked(line("Where the limits come from", "Drawing, limit sheet or law. Without it there is no limit."))
    source_edition = asked(line("Its edition", "Issue, date or edition.", most=80))

    MAIN = ("drawing", "shop", "scrapping")
    BOTH = ("shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper")

    def __init__(self, *args, dimension=None, **kwargs):
        super().__init__(*args, **kwargs)
        if dimension is not None:
            self._for(dimension)

    @staticmethod
    def as_typed(limits, dimension) -> dict:
        """What holds now, as it would be typed: a new edition mostly changes one figure. Its name is written anew."""
        if limits is None:
            return {}
        initial = {"seen": limits.edition, "drawing": limits.drawing, "source": limits.source, "rule": limits.rule}
        initial |= {"shop_open": limits.shop_open, "scrapping_open": limits.scrapping_open}
        worn = {Wears.SMALLER: "lower", Wears.LARGER: "upper"}.get(dimension.wears)
        for which in ("shop", "scrapping"):
            for side in ("lower", "upper"):
                name = which if side == worn else f"{which}_{side}"
                initial[name] = exactly(getattr(limits, f"{which}_{side}"), dimension.unit)
        return initial

    def _for(self, dimension):
        """One that may go either way has no single limit; of the others it is said which side is meant."""
        self.fields["drawing"].help_text += f" In {dimension.unit} where no unit is written."
        if dimension.wears == Wears.EITHER:
            del self.fields["shop"], self.fields["scrapping"]
            return
        side = "least" if dimension.wears == Wears.SMALLER else "most"
        for name in ("shop", "scrapping"):
            self.fields[name].label = f"{self.fields[name].label}, {side}"

    def typed(self) -> Typed:
        entered = {name: self.cleaned_data[name] for name in Typed.__dataclass_fields__ if name in self.cleaned_data}
        return Typed(**entered)

    def is_filled(self) -> bool:
        """Whether anything was written of limits at all."""
        named = (*self.MAIN, *self.BOTH, "source", "source_edition", "shop_open", "scrapping_open")
        return any(self.cleaned_data.get(name) for name in named)

    @property
    def main_fields(self):
        return [self[name] for name in self.MAIN if name in self.fields]

    @property
    def both_sides(self):
        return [self[name] for name in self.BOTH]

    @property
    def last_fields(self):
        return [self[name] for name in ("shop_open", "scrapping_open", "rule", "source", "source_edition")]

    @property
    def both_are_open(self) -> bool:
        """Unfolded where something is in them, or where they are the only ones."""
        return "shop" not in self.fields or any(field.value() or field.errors for field in self.both_sides)


class SizeForm(forms.Form):
    """What is measured, where and which way. Unit and way of wear stay once it is there."""

    fields: DeclaredFields
    use_required_attribute = False
    name = asked(line("What is measured", "Journal diameter, bore, flange thickness.", most=120))
    letter = line("Letter", "As on the drawing or the sheet.", most=8)
    unit = forms.ChoiceField(
        label="Unit of the drawing", choices=UNITS, widget=forms.RadioSelect, required=False, error_messages=CHOOSE
    )
    wears = forms.ChoiceField(
        label="Which way it wears", choices=WEARS, widget=forms.RadioSelect, required=False, error_messages=CHOOSE
    )
    round_part = forms.BooleanField(
        label="It is a diameter: ovality and taper are worked out", required=False
    )  # fmt: skip
    stations = Lines(required=False, label="Stations", help_text="Where along the piece, one a line: inner end.")
    directions = Lines(required=False, label="Directions", help_text="Across it, one a line: vertical, horizontal.")
    note = line("Note", "What the examiner has to know.", most=300)

    ONCE = ("unit", "wears")

    def __init__(self, *args, dimension=None, **kwargs):
        super().__init__(*args, **kwargs)
        for name in self.ONCE:
            self.fields[name].asked = True
        for name in ("stations", "directions"):
            self.fields[name].max_length = 2000
        if dimension is not None:
            for name in self.ONCE:
                del self.fields[name]

    def clean(self):
        for name in ("stations", "directions"):
            words = self.cleaned_data.get(name) or []
            if len(words) > 12 or any(len(word) > 60 for word in words):
                self.add_error(name, "At most twelve, each of at most 60 letters. Shorten it.")
        return self.cleaned_data


class RetireForm(forms.Form):
    use_required_attribute = False
    reason = asked(line("Why stop measuring it"))


class PlacesForm(forms.Form):
    """Places ticked from a list."""

    fields: DeclaredFields
    use_required_attribute = False
    places = forms.MultipleChoiceField(
        label="Places", required=False, widget=CheckboxList,
        error_messages={"invalid_choice": "A place in the list has gone since. Open the page again."},
    )  # fmt: skip

    def __init__(self, *args, offered, told=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.offered = {str(place.pk): place for place in offered}
        asked(self.fields["places"])
        self.fields["places"].choices = [
            (pk, told(place) if told else place.words) for pk, place in self.offered.items()
        ]

    def chosen(self):
        return [self.offered[pk] for pk in self.cleaned_data["places"]]
