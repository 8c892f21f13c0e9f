"""A new locomotive: said in a few words, looked at in numbers, then made."""

from typing import Any

from django import forms
from django.contrib import messages
from django.core.validators import MaxLengthValidator
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.models.longest import longest
from parts.common.shortcuts import refusals_on, status_in
from parts.domain.choices import CHOICES, Articulation, Boiler, Brake, ValveGear, Valves
from parts.domain.hold_templates import Regime
from parts.domain.spec import FEWEST_TENDER_AXLES, MOST_TENDER_AXLES, UNITS
from parts.domain.structure import LocomotiveSpec, SpecError, StructurePlan, plan
from parts.models import Locomotive

from ..writers.locomotives import new_locomotive

LAYOUT = (
    "wheels", "outside_cylinders", "inside_cylinders", "valve_gear", "valves", "brake", "tender_axles",
    "superheated", "outside_frames", "steam_heating", "boiler", "articulation", *CHOICES,
)  # fmt: skip
STARTING_HOLDS = (
    "It has a starting list of hold points, and a survey for asbestos over cladding and old joints. "
    "Next: the competent person decides which of them apply."
)
AS_ARRANGED = "as the wheel arrangement says"
CARRYING = {"": None, "rigid": True, "truck": False}
ABOUT = ("gauge", "builder", "works_number", "built", "american")
STRUCTURES = [
    ("laid out", "laid out from the wheel arrangement"),
    ("empty", "empty, to be filled by hand or by import"),
]


def _choices(words):
    return [(word.value, word.value) for word in words]


def _choice(label: str, words, blank: str = "usual", **more) -> forms.ChoiceField:
    """A question that need not be answered; without an answer it is the usual one."""
    return forms.ChoiceField(label=label, choices=[("", blank), *_choices(words)], required=False, **more)


def _number(label: str, numbers, blank: str = "", **more) -> forms.TypedChoiceField:
    choices = [(0, blank)] if blank else []
    choices += [(number, str(number)) for number in numbers]
    return forms.TypedChoiceField(
        label=label, choices=choices, coerce=int, required=False, empty_value=more.get("initial", 0), **more
    )


def _text(label: str, field: str, **more) -> forms.CharField:
    most = longest(Locomotive, field)
    too_long = f"Write at most {most} characters."
    return forms.CharField(label=label, validators=[MaxLengthValidator(most, too_long)], **more)


ASKED_FIRST = frozenset(
    {"name", "structure", "wheels", "outside_cylinders", "inside_cylinders", "valve_gear", "brake", "unit", "gauge"}
)


class NewLocomotiveForm(forms.Form):
    name = _text("Name", "name", error_messages={"required": "Nothing was written. Name the locomotive."})
    slug = _text(
        "Short name", "slug", required=False, help_text="Small letters, digits, hyphens; blank: made from the name."
    )  # fmt: skip
    structure = forms.ChoiceField(
        label="Starting structure", choices=STRUCTURES, initial="laid out", widget=forms.RadioSelect
    )
    wheels = forms.CharField(
        label="Wheel arrangement",
        max_length=40,
        help_text="Whyte notation, such as 0-6-0T, 2-6-6-2 or 0-4-0VB, or UIC notation, such as C or 1'C1'. "
        "A carriage or a wagon: UIC, such as 2 or 2'2'. An empty structure needs none.",
        error_messages={"required": "The wheel arrangement is blank. Write it in Whyte notation, such as 0-6-0T."},
    )
    outside_cylinders = forms.TypedChoiceField(label="Outside cylinders", choices=[(2, "2"), (0, "none")], coerce=int)
    inside_cylinders = forms.TypedChoiceField(
        label="Inside cylinders", choices=[(0, "none"), (1, "1"), (2, "2")], coerce=int
    )
    valve_gear = forms.ChoiceField(label="Valve gear", choices=_choices(ValveGear))
    valves = forms.ChoiceField(label="Valves", choices=_choices(Valves))
    brake = forms.ChoiceField(label="Brake", choices=_choices(Brake), initial=Brake.VACUUM.value)
    tender_axles = _number(
        "Tender axles", range(FEWEST_TENDER_AXLES, MOST_TENDER_AXLES + 1), initial=3,
        help_text="Of a locomotive with a tender only.",
    )  # fmt: skip
    boiler = _choice("Boiler", Boiler, AS_ARRANGED)
    articulation = _choice(
        "Engine units joined as", Articulation, AS_ARRANGED, help_text="Of several engine units only."
    )
    carrying = forms.ChoiceField(
        label="Single carrying axles", required=False,
        choices=[("", "usual"), ("rigid", "in the main frames"), ("truck", "in a truck")],
    )  # fmt: skip
    driven_axle = _number("Driven axle", range(1, 6), "usual", help_text="Counted from the leading coupled axle.")
    inside_driven_axle = _number("Axle that inside cylinders drive", range(1, 6), "the same")
    superheated = forms.BooleanField(label="Superheated", required=False)
    outside_frames = forms.BooleanField(label="Outside frames", required=False)
    steam_heating = forms.BooleanField(label="Warms its carriages", required=False)
    american = forms.BooleanField(
        label="American words and practice: No. 1 and main axle, hydrostatic test, pilot, bell", required=False
    )
    unit = forms.ChoiceField(
        label="Drawings in",
        choices=[(unit, {"in": "inches", "mm": "millimetres"}[unit]) for unit in UNITS],
        required=False,
    )
    regime = _choice(
        "Rules of its boiler", Regime, "as its words: United Kingdom or United States",
        help_text="Sets a starting list of hold points, and a survey for asbestos over cladding and old joints. "
        "Which of them apply, the competent person decides; change them under Hold points.",
    )  # fmt: skip
    gauge = _text("Gauge", "gauge", required=False)
    builder = _text("Builder", "builder", required=False)
    works_number = _text("Works number", "works_number", required=False)
    built = _text("Built", "built", required=False)

    use_required_attribute = False  # an empty structure needs no wheels, and no script asks which is wanted

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields |= {name: _choice(choice.label, choice.words) for name, choice in CHOICES.items()}
        self.order_fields([name for name in self.fields if name not in (*ABOUT, *CHOICES)] + [*CHOICES, *ABOUT])
        self.fields["wheels"].required = self.data.get("structure") != "empty"

    def usual_fields(self):
        return [field for field in self if field.name in ASKED_FIRST]

    def further_fields(self):
        return [field for field in self if field.name not in ASKED_FIRST]

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if not entered.get("slug") and entered.get("name"):
            entered["slug"] = slugify(entered["name"])[:60].strip("-") or "locomotive"
        if not self.errors and entered["structure"] == "laid out":
            self._lay_out(entered)
        return entered

    def _lay_out(self, entered) -> None:
        try:
            entered["spec"] = LocomotiveSpec(
                british=not entered["american"],
                rigid_carrying=CARRYING[entered["carrying"]],
                driven_axle=entered["driven_axle"],
                inside_driven_axle=entered["inside_driven_axle"],
                unit=entered["unit"] or "in",
                **{field: entered[field] for field in LAYOUT},
            )
        except SpecError as trouble:
            self.add_error(trouble.field if trouble.field in self.fields else "wheels", str(trouble))


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def make(request):
    """First the numbers, then the locomotive: the button that makes it appears beside what it would lay out."""
    form = NewLocomotiveForm(request.POST if request.method == "POST" else None)
    counts = None
    if form.is_bound and form.is_valid():
        entered = form.cleaned_data
        counts = _counts(entered.get("spec"))
        if "make" in request.POST:
            with refusals_on(form):
                made = new_locomotive(
                    request.user,
                    name=entered["name"],
                    slug=entered["slug"],
                    spec=entered.get("spec"),
                    regime=entered["regime"],
                    **{field: entered[field] for field in ABOUT},
                )
                messages.success(request, f"{made.name} is made, with {counts['positions']} positions.")
                if made.open_overhaul().holds.exists():
                    messages.info(request, STARTING_HOLDS)
                return redirect("structure", made.slug)
    page = {
        "page": "A new locomotive",
        "crumbs": [{"href": "/locomotives/", "label": "Locomotives"}, {"href": "", "label": "New"}],
        "form": form,
        "counts": None if form.errors else counts,
    }
    return render(request, "parts/structure/new_locomotive.html", page, status=status_in(form))


def _counts(spec: LocomotiveSpec | None) -> dict:
    """What would be made, in numbers: in all, and for each main group."""
    planned = plan(spec) if spec else StructurePlan((), ())
    parents = {sub.code: sub.parent for sub in planned.subassemblies}

    def main_group(code):
        return main_group(parents[code]) if parents[code] else code

    groups: dict[str, dict[str, Any]] = {
        sub.code: {"name": sub.name, "positions": 0} for sub in planned.subassemblies if sub.parent is None
    }
    for position in planned.positions:
        groups[main_group(position.subassembly)]["positions"] += 1
    return {
        "subassemblies": len(planned.subassemblies),
        "positions": len(planned.positions),
        "safety_critical": sum(position.safety_critical for position in planned.positions),
        "crack_checks": sum(bool(position.crack_check) for position in planned.positions),
        "groups": list(groups.values()),
    }
