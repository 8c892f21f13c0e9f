"""Forms of the ways back: repairs, the steps of renewals, firms, evidence. What they must say the writers ask."""

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields
from parts.actions.fields import LocationField, PieceField, whole
from parts.actions.finish_repair import FinishRepairForm
from parts.actions.forms import asked, day, line, override_field, text
from parts.actions.writing import today
from parts.common.small_forms import ByWhom, Costs, SeenForm, chosen, currency, number
from parts.domain.job_words import RepairMethod
from parts.models import Component, RenewalStep

from ..writers.calls import EVERYTHING, FORWARD, HOW, KEEP, MOST, brought_forward
from ..writers.routes import offered


def _with_its_numbers(piece: Component) -> str:
    number = f" ({piece.cast_number})" if piece.cast_number else ""
    return f"{piece.name} {piece.code or ''}{number}"


class RepairBegin(ByWhom):
    method = chosen("Method", [(m.value, m.capitalize()) for m in RepairMethod])
    what = asked(line("What is done", "Where on it, and how far.", most=300))
    ordered = day("Ordered on")
    promised = day("Promised for")
    estimate = number("Estimated cost")
    currency = currency()

    field_order: tuple[str, ...] = (
        "seen", "method", "what", "firm", "who", "ordered", "promised", "estimate", "currency",
    )  # fmt: skip


class RepairEdit(RepairBegin, Costs):
    hours = number("Hours", digits=7)

    field_order = ("seen", "method", "what", "firm", "who", "ordered", "estimate", "committed", "actual", "currency")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        del self.fields["promised"]


class RepairFinish(FinishRepairForm):
    """What the action asks, and besides what the repair cost and what was let in."""

    fields: DeclaredFields
    done = day("Done on")
    hours = number("Hours", digits=7)
    actual = number("Cost paid")
    currency = currency()
    plates = forms.ModelMultipleChoiceField(
        Component.objects.none(), label="Cut from stock and let in", required=False, widget=CheckboxList,
        help_text="It keeps its tag and its number, and leaves the stock.",
        error_messages={"invalid_choice": "Choose from the list.", "invalid_pk_value": "Choose from the list."},
    )  # fmt: skip
    let_in = line(
        "New material let in",
        "Such as: two strips of 3/16 in plate. Blank: what is ticked above. The ledger of what is original asks.",
    )
    let_in_kg = number("Its mass, in kg", digits=9, places=3)
    bond = asked(line("Bond check", "How the bond to the shell was checked, by whom, and what it showed.", most=300))

    field_order = (
        "seen", "work", "who", "done", "hours", "actual", "currency", "plates", "let_in", "let_in_kg", "procedure",
        "welder", "bond",
    )  # fmt: skip

    def __init__(self, *args, method: str, **kwargs):
        self.method = method
        super().__init__(*args, **kwargs)

    def fit(self) -> None:
        if self.method != RepairMethod.RE_METAL:
            del self.fields["bond"]
        cut = Component.objects.to_let_in()
        self.fields["plates"].queryset = cut
        self.fields["plates"].label_from_instance = _with_its_numbers
        if not cut:
            del self.fields["plates"]

    def entered(self) -> dict:
        """What the writer is told; a day left blank is today."""
        found = {name: value for name, value in self.cleaned_data.items() if value is not None or name != "done"}
        return found | {"currency": (found["currency"] or "GBP").upper(), "plates": list(found.get("plates", ()))}


class RenewalBegin(SeenForm):
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


class StepDone(SeenForm):
    done = day("Done on")
    actual = number("Cost paid")
    currency = currency()
    papers = line("Papers", "Numbers and dates of what came with it.", most=300)

    def __init__(self, *args, may_pass=False, **kwargs):
        super().__init__(*args, **kwargs)
        if may_pass:
            self.fields["override"] = override_field()


class StepFailed(SeenForm):
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
        self.fields["blank"].queryset = renewal.pieces.in_state("in the making").with_codes().order_by("id")
        self.fields["blank"].label_from_instance = _with_its_numbers
        if not may_withdraw:
            self.fields["blank"].disabled = True
            self.fields["blank"].help_text = "The responsible engineer withdraws a blank that is spoilt."


class FirmForm(forms.Form):
    fields: DeclaredFields
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


class CallForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    on = asked(day("On"))
    how = asked(forms.ChoiceField(label="How", choices=[(how, how.capitalize()) for how in HOW], required=False))
    who = line("Who you spoke or wrote to", most=120)
    said = asked(line("What they said", "It is also kept as the reason for a new day.", most=MOST))
    about = forms.ChoiceField(label="About", required=False, error_messages={"invalid_choice": "Choose from the list."})
    promised = day(
        "Promised now for", "Only if they named another day. It is kept for everything that you chose above."
    )

    earlier = asked(forms.ChoiceField(
        label="Promised for later than that", required=False, widget=forms.RadioSelect,
        choices=[(KEEP, "They keep their day"), (FORWARD, "They come earlier too")],
        error_messages={"invalid_choice": "Choose one of these."},
    ))  # fmt: skip

    def offer(self, promised):
        """What the firm has promised, to choose from."""
        self.open_now = promised
        if not self.is_bound:
            del self.fields["earlier"]
        everything = [(EVERYTHING, f"all of it ({len(promised)})")] if len(promised) > 1 else []
        self.fields["about"].choices = [("", "the firm"), *everything, *((one.about, one.what) for one in promised)]

    def clean_on(self):
        return self.cleaned_data["on"] or today()

    def clean(self):
        """Asks what of it comes earlier, only where one day for all would bring something forward."""
        entered = self.cleaned_data
        if not brought_forward(self.open_now, entered.get("about", ""), entered.get("promised")):
            del self.fields["earlier"]
        return entered


class RouteForm(forms.Form):
    use_required_attribute = False
    name = forms.CharField(label="Name", max_length=120, required=False)
    says = line("When it is taken", most=300)
    steps = forms.CharField(
        label="Steps", widget=forms.Textarea({"rows": 10}), required=False, max_length=8000,
        help_text="One step a line. After a “|”, name the papers that come with it: cast it | material certificate",
    )  # fmt: skip
