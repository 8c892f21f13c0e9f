"""Forms of the ways back: repairs, the steps of renewals, firms, evidence. What they must say the writers ask."""

from django import forms

from ..actions.routes import offered
from ..domain.way_words import EvidenceKind, RepairMethod
from ..models import Component, Firm, Renewal, RenewalStep
from ..ticks import Ticks, seen
from .acting import asked, day, line, override_field, text
from .entering import tag_code, whole
from .fields import LocationField, PieceField

TOO_MUCH = "That is more than the register keeps. Write the sum, to the penny."
NUMBERS = {
    "invalid": "Write a number such as 1250.50.",
    "max_digits": TOO_MUCH,
    "max_whole_digits": TOO_MUCH,
    "max_decimal_places": "That is finer than the register keeps. Write fewer figures behind the point.",
}


def number(label: str, help_text: str = "", *, digits: int = 12, places: int = 2) -> forms.DecimalField:
    widget = forms.TextInput({"class": "input-short", "inputmode": "decimal", "autocomplete": "off"})
    return forms.DecimalField(
        label=label, help_text=help_text, required=False, max_digits=digits, decimal_places=places, widget=widget,
        error_messages=NUMBERS,
    )  # fmt: skip


def currency() -> forms.CharField:
    widget = forms.TextInput({"class": "input-short", "autocapitalize": "characters", "autocomplete": "off"})
    return forms.CharField(
        label="Currency", help_text="Three letters, such as GBP or USD.", max_length=3, required=False, widget=widget
    )


def chosen(label: str, choices, help_text: str = "") -> forms.ChoiceField:
    return asked(
        forms.ChoiceField(
            label=label, choices=choices, widget=forms.RadioSelect, required=False, help_text=help_text,
            error_messages={"invalid_choice": "Choose one of these."},
        )
    )  # fmt: skip


class WayForm(forms.Form):
    """What each carries: the last event that the page knew of."""

    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def said(self) -> dict:
        """What the writer is told: a sum or a day left blank is none, a currency in capitals."""
        found = {name: value for name, value in self.cleaned_data.items() if name != "seen"}
        if "currency" in found:
            found["currency"] = (found["currency"] or "GBP").upper()
        return found


class ByWhom(WayForm):
    firm = forms.ModelChoiceField(
        Firm.objects.none(), label="Firm", required=False, empty_label="None: done here",
        error_messages={"invalid_choice": "Choose a firm from the list."},
    )  # fmt: skip
    who = line("Or who does it", "A person, or a firm that is not in the register.", most=120)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["firm"].queryset = Firm.objects.in_use()


class Costs(forms.Form):
    estimate = number("Estimated cost")
    committed = number("Cost ordered", "What was agreed with the order.")
    actual = number("Cost paid")
    currency = currency()


class RepairBegin(ByWhom):
    method = chosen("Method", [(m.value, m.capitalize()) for m in RepairMethod])
    what = asked(line("What is done", "Where on it, and how far.", most=300))
    ordered = day("Ordered on")
    promised = day("Promised for")
    estimate = number("Estimated cost")
    currency = currency()

    field_order = ("seen", "method", "what", "firm", "who", "ordered", "promised", "estimate", "currency")


class RepairEdit(RepairBegin, Costs):
    hours = number("Hours", digits=7)

    field_order = ("seen", "method", "what", "firm", "who", "ordered", "estimate", "committed", "actual", "currency")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        del self.fields["promised"]


class RepairFinish(WayForm):
    work = asked(text("Work done", "What was built up, bushed, straightened, machined, and how far."))
    who = asked(line("By whom", "The person or firm that did the work.", most=120))
    done = day("Done on")
    hours = number("Hours", digits=7)
    actual = number("Cost paid")
    currency = currency()
    plates = forms.ModelMultipleChoiceField(
        Component.objects.none(), label="Cut from stock and let in", required=False, widget=Ticks,
        help_text="It keeps its tag and its number, and leaves the stock.",
        error_messages={"invalid_choice": "Choose from the list.", "invalid_pk_value": "Choose from the list."},
    )  # fmt: skip
    let_in = line(
        "New material let in",
        "Such as: two strips of 3/16 in plate. Blank: what is ticked above. The ledger of what is original asks.",
    )
    let_in_kg = number("Its mass, in kg", digits=9, places=3)
    procedure = line("Weld procedure", "Only if it was welded.", most=120)
    welder = line("Welder", "Only if it was welded.", most=120)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        cut = Component.objects.to_let_in()
        self.fields["plates"].queryset = cut
        self.fields["plates"].label_from_instance = lambda piece: (
            f"{piece.name} {piece.code or ''} ({piece.cast_number})"
        )
        if not cut:
            del self.fields["plates"]

    def said(self) -> dict:
        found = super().said()
        return found | {"plates": list(found.get("plates", ()))}


class PromiseForm(WayForm):
    promised = asked(day("Promised for", "The day that they name now. Blank: they name none any more."))
    why = asked(line("Why the day moved", "Every slip is kept, with its reason.", most=300))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        if not self.initial.get("promised"):
            del self.fields["why"]  # a first promise moves no day

    def said(self) -> dict:
        return {"why": ""} | super().said()


class Replaces(WayForm):
    replaces = PieceField(label="It replaces", required=False, help_text="The old piece's tag. Blank: none.")


class Why(WayForm):
    reason = asked(text("Reason"))


class RenewalBegin(WayForm):
    route = chosen("Route", [], "Its steps can be changed afterwards.")
    quantity = whole("How many", required=False)
    replaces = PieceField(
        label="It replaces", required=False, help_text="The old piece's tag. Blank: the one that was there."
    )
    why = text("Why it is renewed")

    def __init__(self, *args, place, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["route"].choices = route_choices()
        if place.quantity == 1:
            del self.fields["quantity"]


def route_choices() -> list[tuple[str, str]]:
    return [(key, route.name.capitalize()) for key, route in offered().items()]


class StepEdit(ByWhom, Costs):
    name = asked(line("Step", most=120))
    ordered = day("Ordered on")
    papers = line("Papers", "Numbers and dates of what came with it.", most=300)
    note = line("Note", most=300)

    field_order = (
        "seen", "name", "firm", "who", "ordered", "promised", "estimate", "committed", "actual", "currency", "papers",
    )  # fmt: skip


class StepAdd(StepEdit):
    promised = day("Promised for")
    after = forms.ModelChoiceField(
        RenewalStep.objects.none(), label="Behind which step", required=False, empty_label="At the end"
    )

    def __init__(self, *args, renewal, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["after"].queryset = renewal.steps.all()
        for name in ("committed", "actual"):
            del self.fields[name]


class StepDone(WayForm):
    done = day("Done on")
    actual = number("Cost paid")
    currency = currency()
    papers = line("Papers", "Numbers and dates of what came with it.", most=300)

    def __init__(self, *args, may_pass=False, **kwargs):
        super().__init__(*args, **kwargs)
        if may_pass:
            self.fields["override"] = override_field()


class StepFailed(WayForm):
    reason = asked(text("What went wrong"))
    back_to = asked(
        forms.ModelChoiceField(
            RenewalStep.objects.none(), label="Back to which step", required=False, empty_label="Choose the step",
            error_messages={"invalid_choice": "Choose one of these steps."},
        )
    )  # fmt: skip
    blank = forms.ModelChoiceField(
        Component.objects.none(), label="The blank is spoilt and withdrawn", required=False,
        empty_label="None: nothing was spoilt", error_messages={"invalid_choice": "Choose one of these."},
    )  # fmt: skip
    actual = number("What it has cost")
    currency = currency()

    def __init__(self, *args, step, may_withdraw, **kwargs):
        super().__init__(*args, **kwargs)
        renewal = step.renewal
        self.fields["back_to"].queryset = renewal.steps.to_go_back_to(step)
        self.fields["blank"].queryset = renewal.pieces.in_state("in the making").order_by("id")
        if not may_withdraw:
            self.fields["blank"].disabled = True
            self.fields["blank"].help_text = "The responsible engineer withdraws a blank that is spoilt."


class FirmForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(
        label="Name", max_length=120, error_messages={"required": "Nothing was written. Write the name of the firm."}
    )
    does = line("What they do", "Castings, boiler work, white metal …")
    contact = text("How to reach them")
    note = text("Note")
    location = LocationField(
        label="Where it is", required=False,
        help_text="A place of the register that is another firm's. Blank: one with its name.",
    )  # fmt: skip


class EvidenceForm(forms.Form):
    use_required_attribute = False
    kind = chosen("What it is known from", [(kind.value, kind.capitalize()) for kind in EvidenceKind])
    words = asked(text("What it shows", "Where, how many, what size; and what follows from it."))
    source = line("Where the evidence is", "Whose photograph, which drawing, who has seen it.")
    photos = forms.MultipleChoiceField(label="Pictures of it", required=False, widget=Ticks)

    def __init__(self, *args, place, **kwargs):
        super().__init__(*args, **kwargs)
        pictures = list(place.photos.all()[:24])
        self.fields["photos"].choices = [(photo.pk, seen(photo)) for photo in pictures]
        self.fields["photos"].pictured = True
        if not pictures:
            del self.fields["photos"]


class RouteForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(label="Name", max_length=120, required=False)
    says = line("When it is taken", most=300)
    steps = forms.CharField(
        label="Steps", widget=forms.Textarea({"rows": 10}), required=False, max_length=8000,
        help_text="One in each line. What papers it brings stands behind a bar: cast it | material certificate",
    )  # fmt: skip


class StockForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(
        label="What it is", max_length=160, error_messages={"required": "Nothing was written. Name it in a few words."},
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
    use_required_attribute = False
    name = forms.CharField(
        label="What is cut", max_length=160, error_messages={"required": "Nothing was written. Name it in a few words."}
    )
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
    use_required_attribute = False
    pieces = asked(
        forms.MultipleChoiceField(
            label="Pieces that are joined", required=False, widget=Ticks,
            error_messages={"invalid_choice": "Choose from the list."},
        )
    )  # fmt: skip
    name = forms.CharField(
        label="What they become", max_length=160,
        error_messages={"required": "Nothing was written. Name it in a few words."},
    )  # fmt: skip
    procedure = asked(line("Weld procedure", most=120))
    welder = asked(line("Welder", most=120))
    code = tag_code("Blank: a new one is issued.")

    def __init__(self, *args, cut, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["pieces"].choices = [(p.pk, f"{p.name} {p.code or ''} ({p.cast_number})") for p in cut]
