"""The form of a crack check: how it was looked for. Each value that is questioned takes a reason beside it."""

import dataclasses
import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django import forms
from django.contrib.auth import get_user_model
from django.forms import BoundField

from core.web.widgets import CheckboxList
from inspections.domain.crack_details import DETAILS, LONGEST, details_of
from inspections.domain.crack_evidence import refused
from inspections.domain.indications import levels
from inspections.models import Examination
from inspections.models.crack_checks import STAGES, VIEWINGS
from inspections.records.forms import CHOOSE, INSIDE, WithInside, in_one_line
from inspections.records.like_pieces import WithLike
from inspections.records.writers.crack_checks import CheckDetails
from parts.actions.fields import FigureField
from parts.actions.forms import asked, day, line, text
from parts.domain.plain import day as plain_day
from parts.domain.words import Method, Result

REASON, DETAIL = "reason-", "detail-"
MISSED = f"{REASON}surface-missed"
"""Always on the page where its place names surfaces: out of sight while each of them is ticked."""
MT, PT, UT = (Method.MAGNETIC_PARTICLE.value, Method.PENETRANT.value, Method.ULTRASONIC.value)
METHODS = (MT, PT, UT)
SHORT = {MT: "magnetic", PT: "penetrant", UT: "ultrasonic"}
NEEDED_BY = {
    "viewing": (MT, PT), "light_lux": (MT, PT), "uv_a_w_m2": (MT, PT), "dwell_min": (PT,), "surface_c": (PT,),
    "two_directions": (MT,), "directions": (MT,), "demagnetised": (MT,),
    "level": (MT, PT), "level_by": (MT, PT), "level_reason": (MT, PT),
} | {f"{DETAIL}{detail.name}": detail.methods for detail in DETAILS}  # fmt: skip
"""Fields that only some methods need; without scripts the others are greyed out of sight by the stylesheet."""
QUESTIONED = ("viewing", "uv_a_w_m2", "light_lux", "dwell_min", "surface_c", "demagnetised")
"""Left blank they are asked for, so the page must not say that they may be."""
SEEN_ONLY_WITH = {
    "uv_a_w_m2": "not-contrast",
    "directions": "not-two-directions",
    "level_by": "with-level",
    "level_reason": "with-level",
}
UNITS = {"uv_a_w_m2": "W/m²", "light_lux": "lx", "dwell_min": "min", "surface_c": "°C"} | {
    f"{DETAIL}{detail.name}": detail.unit for detail in DETAILS
}
AS_LAST_TIME = ("procedure", "technique", "equipment", "consumables", "viewing")
"""What is mostly the same from one check to the next. What is measured or about the piece itself is never filled in."""
RESULTS = [
    (Result.SOUND.value, "Sound: nothing found"),
    (Result.INDICATION.value, "Indication: it showed something"),
]
LEVELS = [("", "None chosen: the engineer decides")] + [
    (level.name, f"{level.name}, {level.of}: linear to {float(level.linear_most_mm):g}, "
                 f"rounded to {float(level.rounded_most_mm):g} mm")
    for level in levels()
]  # fmt: skip
LEVEL_METHOD = {level.name: level.method for level in levels()}
TWO_DIRECTIONS = ("0", "90")
MOST_DIRECTIONS = 12
LONGEST_REASON = 300
LIKE = "Like pieces in the same report"
WHEN = "The day, and the stage of a weld repair"

STEPS = ("Method", "Reached", "Marks", "Result")
GROUPS = (
    ("Method", "What was done", ("method",)),
    ("Method", WHEN, ("on", "stage")),
    ("Method", "With what", ("procedure", "technique", "equipment", "consumables")),
    ("Method", "What the report states", ("surface", *(f"{DETAIL}{detail.name}" for detail in DETAILS))),
    ("Reached", "What it reached", ("reached", *INSIDE)),
    ("Reached", "Magnetised", ("two_directions", "directions", "demagnetised")),
    ("Reached", "Seen how", ("viewing", "uv_a_w_m2", "light_lux", "dwell_min", "surface_c")),
    ("Marks", "Acceptance level", ("level", "level_by", "level_reason")),
    ("Result", "What it showed", ("result", "found")),
    ("Result", LIKE, ()),
    ("Result", "Remarks, the next look, an earlier record", ("remarks", "look_again", "supersedes")),
)
"""In which step, under which heading, which fields."""
FOLDED = (WHEN, "What the report states", "Acceptance level", LIKE, "Remarks, the next look, an earlier record")
"""Groups that stay folded while there is nothing to do in them."""


def field_of(detail) -> forms.Field:
    """Of one line of the report: a figure where it has a unit, else words."""
    if detail.unit:
        return figure(detail.label, detail.hint, 7, 1, least=0)
    return line(detail.label, detail.hint, most=LONGEST)


def figure(label: str, help_text: str, digits: int, places: int, *, least=None) -> FigureField:
    return FigureField(
        label=label, help_text=help_text, required=False, max_digits=digits, decimal_places=places, min_value=least,
        error_messages={
            "invalid": "Write it in figures, such as 12.5.",
            "min_value": "It cannot be below zero.",
            "max_digits": "That is more than it can be. Look at it again.",
            "max_whole_digits": "That is more than it can be. Look at it again.",
            "max_decimal_places": "Write it with fewer figures after the point.",
        },
    )  # fmt: skip


class MethodField(forms.ChoiceField):
    """Only what this person may sign is offered; what is sent all the same the writer refuses, with its reason."""

    def valid_value(self, value):
        return value in METHODS


class CrackCheckForm(WithInside, WithLike):
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    method = MethodField(label="Method", widget=forms.RadioSelect, error_messages=CHOOSE)
    stage = forms.ChoiceField(label="Of a weld repair", choices=STAGES, required=False, error_messages=CHOOSE)
    on = asked(day("Examined on"))
    reached = asked(forms.MultipleChoiceField(
        label="Surfaces reached", required=False, widget=CheckboxList,
        help_text="A surface that is not ticked counts as not examined.",
        error_messages={"invalid_choice": "Choose from the surfaces in the list."},
    ))  # fmt: skip
    surface = line("Surface and cleaning", "Bare or painted, how it was cleaned and dried.")
    procedure = asked(line("Written procedure and its issue", most=160))
    technique = asked(line("Technique", "Yoke, coil, prods or bench; removal of penetrant.", most=160))
    equipment = asked(line("Equipment and its number"))
    consumables = asked(line("Consumables and batch", "Ink, penetrant, developer, couplant."))
    viewing = forms.ChoiceField(
        label="Looked at by", required=False, choices=VIEWINGS[1:], widget=forms.RadioSelect, error_messages=CHOOSE
    )
    uv_a_w_m2 = figure("UV-A on the surface", "At least 10 is needed.", 8, 2, least=0)
    light_lux = figure("Light on the surface", "Fluorescent: under 20. Colour contrast: at least 500.", 8, 1, least=0)
    dwell_min = figure("Penetrant dwell", "5 to 60 is usual; the maker's own time goes before it.", 6, 1, least=0)
    surface_c = figure("Surface temperature", "10 to 50 is usual.", 5, 1)
    two_directions = asked(forms.BooleanField(label="Magnetised in two directions about 90° apart", required=False))
    directions = line("Or in these directions, degrees", "Such as 0 and 60. If one only, you are asked why.", most=80)
    demagnetised = forms.ChoiceField(
        label="Demagnetised afterwards", required=False, widget=forms.RadioSelect, error_messages=CHOOSE,
        choices=[("yes", "Yes"), ("no", "No"), ("not needed", "Not needed")],
    )  # fmt: skip
    level = forms.ChoiceField(
        label="Acceptance level", choices=LEVELS, required=False, widget=forms.RadioSelect,
        error_messages=CHOOSE,
    )  # fmt: skip
    level_by = forms.ModelChoiceField(
        get_user_model().objects.none(), label="If it is no weld: the engineer who proposed the level", required=False,
        empty_label="Nobody", error_messages={"invalid_choice": "Choose a responsible engineer from the list."},
    )  # fmt: skip
    level_reason = line("A level for welds, used on something else: why it holds here", most=300)
    result = forms.ChoiceField(label="Result", choices=RESULTS, widget=forms.RadioSelect, error_messages=CHOOSE)
    found = asked(text("What was found", "Not needed if the check is sound, or if the marks above say it."))
    remarks = text("Remarks")
    look_again = day("Look again on", "Only if a new date is set.")
    supersedes = forms.ModelChoiceField(
        Examination.objects.none(), label="Takes the place of", required=False, empty_label="No earlier record",
        error_messages={"invalid_choice": "Choose one of the earlier records."},
    )  # fmt: skip

    def __init__(self, *args, offered, surfaces, earlier, engineers, material="", inside=(), like=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.surfaces, self.material, self.reasons, self.questions = list(surfaces), material, {}, []
        self.marked = [text for name, text in self.data.items() if re.fullmatch(r"mark-\d+-where", name)]
        for detail in DETAILS:
            self.fields[f"{DETAIL}{detail.name}"] = field_of(detail)
        self.fields["method"].choices = offered
        self.fields["level_by"].queryset = engineers
        self.fields["reached"].choices = [(surface, surface.capitalize()) for surface in surfaces]
        self.fields["supersedes"].queryset = earlier
        self.fields["supersedes"].label_from_instance = in_one_line
        for name in QUESTIONED:
            self.fields[name].asked = True
        self.offer_inside(inside)
        self.offer_like(list(like))
        if surfaces:
            self.fields[MISSED] = asked(line("Why a surface was not reached", most=LONGEST_REASON))
        else:
            del self.fields["reached"]
        if not earlier:
            del self.fields["supersedes"]

    def clean_directions(self) -> tuple[str, ...]:
        return read_directions(self.cleaned_data["directions"])

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        if entered.get("two_directions") and entered.get("directions"):
            self.add_error("directions", "The tick says 0 and 90 already. Untick it, or leave this blank.")
        level, method = entered.get("level"), entered.get("method")
        if level and method in (MT, PT) and LEVEL_METHOD[level] != method:
            self.add_error("level", f"{level} is for {LEVEL_METHOD[level]}. Choose one for {method}.")
        if method in METHODS:
            self.refuse(self.entered().evidence(method, self.material))
            self.ask(self.entered().questions(method, self.material, self.missed(), self.marked))
        return entered

    def refuse(self, evidence):
        """What no reason answers stands at the field that it is about."""
        for refusal in refused(evidence):
            name = refusal.code if refusal.code in self.fields else "method"
            if name not in self.errors:
                self.add_error(name, f"{refusal.sentence} {refusal.cure}")

    def missed(self) -> list[str]:
        reached = self.cleaned_data.get("reached", [])
        return [surface for surface in self.surfaces if surface not in reached]

    def ask(self, questions):
        """Beside each value that is questioned stands the question, and room for the reason."""
        for question in questions:
            if question.field in self.errors or (question.field == "directions_deg" and "directions" in self.errors):
                continue
            self._field_for(question)
            answer = self._answer(question.code)
            self.reasons[question.code] = answer
            if not answer:
                self.add_error(f"{REASON}{question.code}", question.cure)
            elif len(answer) > LONGEST_REASON and f"{REASON}{question.code}" not in self.errors:
                self.add_error(f"{REASON}{question.code}", f"Say it in {LONGEST_REASON} characters or fewer.")

    def _field_for(self, question):
        self.questions.append(question)
        name, sentence = f"{REASON}{question.code}", question.sentence.rstrip(".")
        self.fields[name] = asked(line(sentence, most=LONGEST_REASON))
        self[name].label = sentence  # one that was always there was read with its own

    def _answer(self, code: str) -> str:
        return " ".join(str(self.data.get(f"{REASON}{code}", "")).replace("\0", "").split())

    def entered(self) -> CheckDetails:
        """As the writer takes it; what the method does not need is left out, even if something stood there before."""
        entered = self.cleaned_data
        method = entered.get("method", "")
        kept = {
            name: entered[name]
            for name in CheckDetails.__dataclass_fields__
            if name in self.fields and entered.get(name) not in (None, "") and method in NEEDED_BY.get(name, METHODS)
        }
        if kept.get("viewing") != "fluorescent":
            kept.pop("uv_a_w_m2", None)
        if method == MT:
            kept["directions_deg"] = (
                TWO_DIRECTIONS if entered.get("two_directions") else entered.get("directions") or ()
            )
        details = {detail.name: str(entered.get(f"{DETAIL}{detail.name}") or "") for detail in details_of(method)}
        return CheckDetails(**kept, details=details, reasons=dict(self.reasons))

    def record(self) -> dict:
        """The rest, as `sign` takes it; a surface that was not ticked is on record as missed."""
        entered = self.cleaned_data
        reached = entered.get("reached", [])
        plain = {
            name: entered.get(name) for name in ("seen", "method", "on", "result", "found", "remarks", "look_again")
        }
        inside, shut = self.inside()
        plain |= {"reached": [*reached, *inside], "not_reached": [*self.missed(), *shut]}
        return {**plain, "supersedes": entered.get("supersedes")}

    def not_needed_by(self, method: str) -> list[str]:
        return [name for name in self.fields if method not in NEEDED_BY.get(name, METHODS)]

    def as_typed(self) -> dict:
        """Everything that was sent, as it was typed: to show it again before it is signed."""
        return {name: self[name].data for name in self.fields}

    def groups(self) -> list["Fieldset"]:
        """What stands on the page together, each field with its unit, its questions, and who does not need it."""
        groups = []
        for step, legend, names in GROUPS:
            names = tuple(self.like_names()) if legend == LIKE else names
            rows = [self._row(name) for name in names if name in self.fields]
            if not rows:
                continue
            css = _hidden_from([row.field.name for row in rows])
            groups.append(Fieldset(step, legend, rows, css, *self._fold(legend, rows)))
        return groups

    def steps(self) -> list["Step"]:
        """The four screens of the sheet, each with what stands on it."""
        groups = self.groups()
        return [
            Step(name, number, [group for group in groups if group.step == name])
            for number, name in enumerate(STEPS, 1)
        ]

    def _fold(self, legend: str, rows: list["FieldRow"]) -> tuple[bool, bool, str]:
        """Whether it folds, whether it stands open, and what it says while it is closed."""
        if legend not in FOLDED:
            return False, True, ""
        entered = [_told(row.field) for row in rows if row.field.value() and row.field.name != "level_by"]
        wrong = any(row.field.errors or row.reasons for row in rows)
        return True, wrong, "; ".join(entered)

    def _row(self, name: str) -> "FieldRow":
        asked_for = [
            f"{REASON}{question.code}"
            for question in self.questions
            if question.field == name or (question.field == "directions_deg" and name == "directions")
        ]
        always = [MISSED] if name == "reached" else []
        reasons = [self[each] for each in dict.fromkeys([*always, *asked_for])]
        css = f"{_hidden_from([name])} {SEEN_ONLY_WITH.get(name, '')}"
        return FieldRow(
            self[name], UNITS.get(name, ""), css.strip(), reasons, self._levels() if name == "level" else []
        )

    def _levels(self):
        """Each level is for one method, and out of sight for another."""
        options = list(self["level"])
        return [(x, _only_for(LEVEL_METHOD.get(x.data["value"], ""))) for x in options]


def _told(field: BoundField) -> str:
    """A day that was typed comes back as the text that the browser sent."""
    value = field.value()
    if isinstance(value, str) and isinstance(field.field, forms.DateField):
        try:
            value = date.fromisoformat(value)
        except ValueError:
            return value
    return plain_day(value) if isinstance(value, date) else str(value)


def _hidden_from(names) -> str:
    needed = set().union(*(NEEDED_BY.get(name, METHODS) for name in names))
    return hidden_but_from(needed)


def hidden_but_from(methods) -> str:
    """The classes that grey a thing out of sight for every method but these."""
    return " ".join(f"not-{SHORT[method]}" for method in METHODS if method not in methods)


def _only_for(method: str) -> str:
    return hidden_but_from((method,)) if method else ""


@dataclass(frozen=True)
class FieldRow:
    field: BoundField
    unit: str = ""
    css: str = ""
    reasons: list[BoundField] = dataclasses.field(default_factory=list)
    options: list = dataclasses.field(default_factory=list)


@dataclass(frozen=True)
class Fieldset:
    step: str
    legend: str
    rows: list[FieldRow]
    css: str = ""
    folds: bool = False
    open: bool = True
    summary: str = ""


@dataclass(frozen=True)
class Step:
    """One screen of the sheet. Its address on the page is `id`."""

    name: str
    number: int
    groups: list[Fieldset]

    @property
    def id(self) -> str:
        return self.name.lower()

    @property
    def before(self) -> str:
        return STEPS[self.number - 2].lower() if self.number > 1 else ""

    @property
    def after(self) -> str:
        return STEPS[self.number] if self.number < len(STEPS) else ""


def read_directions(typed: str) -> tuple[str, ...]:
    """Angles in degrees, as typed: `0 and 90`, `0, 45, 90`. A comma inside a figure could be read two ways."""
    if re.search(r"\d,\d", typed):
        raise forms.ValidationError("Write the angles with a space between them, such as 0 and 90.")
    angles = [one for one in re.split(r"[\s,;°]+|\band\b", typed) if one]
    for angle in angles:
        if not re.fullmatch(r"\d{1,3}(\.\d{1,2})?", angle, re.ASCII) or Decimal(angle) >= 360:
            raise forms.ValidationError(f"“{angle[:20]}” is no angle in degrees. Write such as 0 and 90.")
    if len(angles) > MOST_DIRECTIONS:
        raise forms.ValidationError(f"Give {MOST_DIRECTIONS} directions at most.")
    return tuple(angles)
