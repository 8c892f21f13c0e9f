"""A new locomotive: said in a few words, looked at in numbers, then made."""

from django import forms
from django.contrib import messages
from django.core.validators import MaxLengthValidator
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.refusing import refusals_on, status_in
from parts.domain.structure import Brake, LocomotiveSpec, Plan, SpecError, ValveGear, Valves, plan
from parts.models import Locomotive

from ..writers.locomotives import new_locomotive

LAYOUT = ("valve_gear", "valves", "brake", "superheated", "outside_frames")
ABOUT = ("gauge", "builder", "works_number", "built", "american")
STRUCTURES = [
    ("laid out", "laid out from the wheel arrangement"),
    ("empty", "empty, to be filled by hand or by import"),
]


def _choices(words):
    return [(word.value, word.value) for word in words]


def _text(label: str, field: str, **more) -> forms.CharField:
    most = Locomotive._meta.get_field(field).max_length
    too_long = f"Write at most {most} characters."
    return forms.CharField(label=label, validators=[MaxLengthValidator(most, too_long)], **more)


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
        help_text="Whyte notation, such as 0-6-0T or 4-4-0. An empty structure needs none.",
        error_messages={"required": "The wheel arrangement is blank. Write it in Whyte notation, such as 0-6-0T."},
    )
    outside_cylinders = forms.TypedChoiceField(label="Outside cylinders", choices=[(2, "2"), (0, "none")], coerce=int)
    inside_cylinders = forms.TypedChoiceField(
        label="Inside cylinders", choices=[(0, "none"), (1, "1"), (2, "2")], coerce=int
    )
    valve_gear = forms.ChoiceField(label="Valve gear", choices=_choices(ValveGear))
    valves = forms.ChoiceField(label="Valves", choices=_choices(Valves))
    brake = forms.ChoiceField(label="Brake", choices=_choices(Brake), initial=Brake.VACUUM.value)
    tender_axles = forms.TypedChoiceField(
        label="Tender axles", choices=[(n, str(n)) for n in (2, 3, 4)], initial=3, coerce=int,
        help_text="Of a locomotive with a tender only.",
    )  # fmt: skip
    superheated = forms.BooleanField(label="Superheated", required=False)
    outside_frames = forms.BooleanField(label="Outside frames", required=False)
    american = forms.BooleanField(label="American words: No. 1 and main axle, hydrostatic test", required=False)
    gauge = _text("Gauge", "gauge", required=False)
    builder = _text("Builder", "builder", required=False)
    works_number = _text("Works number", "works_number", required=False)
    built = _text("Built", "built", required=False)

    use_required_attribute = False  # an empty structure needs no wheels, and no script asks which is wanted

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["wheels"].required = self.data.get("structure") != "empty"

    def clean(self):
        said = super().clean()
        if not said.get("slug") and said.get("name"):
            said["slug"] = slugify(said["name"])[:60].strip("-") or "locomotive"
        if not self.errors and said["structure"] == "laid out":
            self._lay_out(said)
        return said

    def _lay_out(self, said) -> None:
        layout = {field: said[field] for field in LAYOUT + ("inside_cylinders", "outside_cylinders", "tender_axles")}
        try:
            said["spec"] = LocomotiveSpec(wheels=said["wheels"], british=not said["american"], **layout)
        except SpecError as trouble:
            about_cylinders = "ylinders" in str(trouble)
            self.add_error("outside_cylinders" if about_cylinders else "wheels", str(trouble))


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def make(request):
    """First the numbers, then the locomotive: the button that makes it appears beside what it would lay out."""
    form = NewLocomotiveForm(request.POST if request.method == "POST" else None)
    counts = None
    if form.is_bound and form.is_valid():
        said = form.cleaned_data
        counts = _counts(said.get("spec"))
        if "make" in request.POST:
            with refusals_on(form):
                made = new_locomotive(
                    request.user,
                    name=said["name"],
                    slug=said["slug"],
                    spec=said.get("spec"),
                    **{field: said[field] for field in ABOUT},
                )
                messages.success(request, f"{made.name} is made, with {counts['positions']} positions.")
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
    planned = plan(spec) if spec else Plan((), ())
    parents = {sub.code: sub.parent for sub in planned.subassemblies}

    def main_group(code):
        return main_group(parents[code]) if parents[code] else code

    groups = {sub.code: {"name": sub.name, "positions": 0} for sub in planned.subassemblies if sub.parent is None}
    for position in planned.positions:
        groups[main_group(position.subassembly)]["positions"] += 1
    return {
        "subassemblies": len(planned.subassemblies),
        "positions": len(planned.positions),
        "safety_critical": sum(position.safety_critical for position in planned.positions),
        "crack_checks": sum(bool(position.crack_check) for position in planned.positions),
        "groups": list(groups.values()),
    }
