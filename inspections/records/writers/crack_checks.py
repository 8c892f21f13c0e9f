"""Writing how a crack check was done, and each thing that it showed."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

from core.domain.refusals import Refusal
from core.models import Person
from inspections.domain.crack_checks import Conditions, questions
from inspections.domain.crack_details import ALL as METHODS
from inspections.domain.crack_details import read_details
from inspections.domain.crack_evidence import Evidence, questioned, refused
from inspections.domain.indications import NO_WIDTH, TOO_FINE, Level, form_of, judge_indication, level_named
from inspections.domain.lengths import LengthError, parse_length
from inspections.domain.questions import Question, unanswered
from inspections.domain.two_units import in_both
from inspections.models import CrackCheck, Indication
from parts.actions import writing
from parts.domain.words import Kind
from parts.models import Photo


@dataclass(frozen=True, kw_only=True)
class CheckDetails:
    """How a crack check was done, as the form has it. `reasons` answers the questions it raises, by code."""

    procedure: str = ""
    technique: str = ""
    surface: str = ""
    equipment: str = ""
    consumables: str = ""
    viewing: str = ""
    uv_a_w_m2: Decimal | None = None
    light_lux: Decimal | None = None
    dwell_min: Decimal | None = None
    surface_c: Decimal | None = None
    directions_deg: tuple[str, ...] = ()
    demagnetised: str = ""
    level: str = ""
    level_reason: str = ""
    level_by: Person | None = None  # the responsible engineer who proposed the level for a piece that is not a weld
    stage: str = ""
    details: Mapping[str, str] = field(default_factory=dict)  # what the report states by method (domain/crack_details)
    reasons: Mapping[str, str] = field(default_factory=dict)

    def evidence(
        self, method: str, material: str, missed: Collection[str] = (), marked: Collection[str] = ()
    ) -> Evidence:
        """A check of one weld is not one of the whole piece, so no other surface is missed by it."""
        return Evidence(
            method=method,
            material=material,
            missed=() if self.stage else missed,
            marked=marked,
            procedure=self.procedure,
            technique=self.technique,
            equipment=self.equipment,
            consumables=self.consumables,
        )

    def questions(
        self, method: str, material: str, missed: Collection[str] = (), marked: Collection[str] = ()
    ) -> list[Question]:
        """`marked`: where each indication is said to be."""
        conditions = questions(
            Conditions(
                method=method,
                viewing=self.viewing,
                uv_a_w_m2=self.uv_a_w_m2,
                light_lux=self.light_lux,
                dwell_min=self.dwell_min,
                surface_c=self.surface_c,
                directions_deg=tuple(Decimal(angle) for angle in self.directions_deg),
                demagnetised=self.demagnetised,
            )
        )
        return [*conditions, *questioned(self.evidence(method, material, missed, marked))]


@dataclass(frozen=True, kw_only=True)
class Mark:
    """One thing that a crack check showed, as the form has it: sizes as typed, and where it was tapped on a photo."""

    length: str
    width: str = ""
    unit: str = ""
    where: str = ""
    crack: bool = True
    photo: Photo | None = None
    across: Decimal | None = None
    down: Decimal | None = None

    def in_words(self) -> str:
        fine = _is_nought(self.width)
        sizes = [size for size in (self.length.strip(), "" if fine else self.width.strip()) if size]
        if any(_names_its_unit(size) for size in sizes):
            told = " by ".join(size if _names_its_unit(size) else f"{size} {self.unit}".strip() for size in sizes)
        else:
            told = f"{' by '.join(sizes)} {self.unit}".strip()
        return ", ".join(filter(None, (self.where.strip(), told, f"{TOO_FINE} across" if fine else "")))


def marks_of(
    component, kind: str, method: str, check: CheckDetails | None, marks: Sequence[Mark], missed: Collection[str]
):
    """The marks as rows to be stored, and why they or the conditions cannot be signed as they stand."""
    if kind != Kind.CRACK_CHECK:
        wrong = check is not None or marks
        return [], [
            Refusal("kind", "Only a crack check has conditions and indications.", "Take them out.")
        ] if wrong else []
    check = check or CheckDetails()
    marked = [mark.where for mark in marks]
    trouble, level = list(_conditions_trouble(check, method, material_of(component), missed, marked)), None
    if check.level:
        try:
            level = level_named(check.level)
            trouble.extend(_level_trouble(check, level))
        except ValueError as error:
            trouble.append(Refusal("level", f"Acceptance level: {error}", "Choose one from the list."))
    shown = []
    for number, mark in enumerate(marks, 1):
        try:
            shown.append(row_of(number, mark, level))
        except ValueError as error:  # a LengthError is one
            trouble.append(Refusal("mark", f"Indication {number}: {error}", "Correct it; the rest is kept."))
    return shown, trouble


def material_of(component) -> str:
    return component.place.material if component.place else ""


def _conditions_trouble(
    check: CheckDetails, method: str, material: str, missed: Collection[str], marked: Collection[str]
):
    if method not in METHODS:
        return
    yield from refused(check.evidence(method, material))
    try:
        read_details(method, check.details)
    except ValueError as error:
        yield Refusal("detail", str(error), "Correct it; the rest is kept.")
    for question in unanswered(check.questions(method, material, missed, marked), check.reasons):
        yield Refusal("question", question.sentence, question.cure)


def _level_trouble(check: CheckDetails, level: Level):
    if check.stage and level.of != "welds":
        yield Refusal("level", f"{level.name} is for {level.of}, and this is a weld.", "Choose a level for welds.")
    if check.stage:
        return
    if level.of == "welds" and not check.level_reason.strip():
        yield Refusal(
            "level",
            f"{level.name} is a level for welds, and this is no weld.",
            "Say why the engineer lets it hold here.",
        )
    if not (check.level_by and check.level_by.is_engineer):
        yield Refusal(
            "level-by",
            f"{level.name} on a piece that is not a weld is the responsible engineer's proposal; none is named.",
            "Name the engineer who proposed it.",
        )


def row_of(number: int, mark: Mark, level) -> Indication:
    """One mark as it would be stored, judged by the level if there is one; a ValueError says what is wrong."""
    length = _size(mark.length, mark.unit, "length")
    width = _size(mark.width, mark.unit, "width") if mark.width.strip() else None
    if not mark.where.strip() and mark.across is None:
        raise ValueError("it says nowhere where it is. Tap it on a photo, or describe where.")
    form, acceptable, sentence = form_of(length, width), None, _unjudged(length, width)
    if level:
        form, acceptable, sentence = judge_indication(length, width, level)
    return Indication(
        number=number,
        where=mark.where.strip(),
        photo=mark.photo,
        across=mark.across,
        down=mark.down,
        length=length,
        width=width,
        typed=mark.in_words()[:120],
        linear=form == "linear",
        crack=mark.crack,
        acceptable=acceptable,
        sentence=sentence,
    )


def _size(text: str, unit: str, name: str) -> Fraction:
    try:
        return parse_length(text, unit or None)
    except LengthError as error:
        raise ValueError(f"{name}: {error}") from None


def _is_nought(size: str) -> bool:
    return "0" in size and not any(figure in size for figure in "123456789")


def _names_its_unit(size: str) -> bool:
    try:
        parse_length(size)
    except LengthError:
        return False
    return True


def _unjudged(length: Fraction, width: Fraction | None) -> str:
    form = NO_WIDTH if width is None else form_of(length, width).capitalize()
    by = f" by {in_both(width, 'mm')}" if width else "" if width is None else f", {TOO_FINE} across"
    return f"{form}, {in_both(length, 'mm')}{by}. No acceptance level was chosen."


def authorisation_behind(actor, kind: str, method: str):
    """What allows this person to sign such a look today, if anything does."""
    found = actor.authorised_on(writing.today())
    return next((one for one in found if (one.kind, one.method) == (kind, method)), None)


def write_crack_check(
    examination, actor, check: CheckDetails | None, shown: list[Indication], missed: Collection[str]
) -> None:
    if check is not None:
        marked = [row.where for row in shown]
        told = check.questions(examination.method, material_of(examination.component), missed, marked)
        asked = {question.code: question.sentence for question in told}
        answers = [[sentence, check.reasons[code].strip()] for code, sentence in asked.items()]
        behind = authorisation_behind(actor, examination.kind, examination.method)
        CrackCheck.objects.create(
            examination=examination,
            **{name: getattr(check, name) for name in STORED},
            directions_deg=list(check.directions_deg),
            details=read_details(examination.method, check.details),
            level_by=check.level_by if check.level and not check.stage else None,
            answers=answers,
            examiner_level=behind.level if behind else "",
            examiner_until=behind.until if behind else None,
        )
    for row in shown:
        row.examination = examination
    Indication.objects.bulk_create(shown)


STORED = (
    "procedure", "technique", "surface", "equipment", "consumables", "viewing", "uv_a_w_m2", "light_lux", "dwell_min",
    "surface_c", "demagnetised", "level", "level_reason", "stage",
)  # fmt: skip
