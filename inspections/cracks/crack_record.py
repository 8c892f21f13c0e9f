"""What the page of a signed crack check shows: how it was done, its indications with what was decided of each."""

from collections.abc import Iterable
from dataclasses import dataclass

from parts.domain.plain import day
from parts.domain.words import Kind

from ..domain.crack_details import in_words
from ..domain.indications import MEMORY, NO_WIDTH, TOO_FINE
from ..domain.two_units import in_both
from ..models import CrackCheck, Examination, FindingDecision, Indication
from ..models.crack_checks import STAGES
from .crack_context import Marked, marked_photos, plain


@dataclass(frozen=True)
class IndicationLine:
    """One indication as a line of the table."""

    number: int
    where: str
    form: str
    length: str
    width: str
    crack: str
    verdict: str
    decision: FindingDecision | None


@dataclass(frozen=True)
class CrackRecord:
    done: list[tuple[str, str]]  # how it was done, a name and a value for each
    answers: list[tuple[str, str]]  # what was questioned, and the reason
    shown: list[IndicationLine]
    photos: list[Marked]
    memory: str = MEMORY


def of(record: Examination) -> CrackRecord | None:
    """Nothing for a record that is no crack check. From what `record_words.sheet_of` has read: no query of its own."""
    if record.kind != Kind.CRACK_CHECK:
        return None
    check = getattr(record, "crack_check", None)
    shown = list(record.indications.all())
    decided = latest_of(shown, record.decisions.all())
    return CrackRecord(
        done=list(how(check)) if check else [],
        answers=[tuple(pair) for pair in check.answers] if check else [],
        shown=[_line(one, decided[one.number]) for one in shown],
        photos=marked_photos(shown),
    )


def decided_of(record: Examination, shown: list[Indication]) -> dict[int, FindingDecision | None]:
    """By number, the latest decision of each indication."""
    return latest_of(shown, record.decisions.select_related("decided_by").order_by("event") if shown else ())


def latest_of(shown: list[Indication], decisions: Iterable[FindingDecision]):
    """By number; one for the whole record decides all of them. `decisions` are the oldest first."""
    latest: dict[int, FindingDecision | None] = dict.fromkeys(one.pk for one in shown)
    for decision in decisions:
        if decision.indication_id is None:
            latest = dict.fromkeys(latest, decision)
        else:
            latest[decision.indication_id] = decision
    return {one.number: latest[one.pk] for one in shown}


def _line(one: Indication, decision) -> IndicationLine:
    return IndicationLine(
        number=one.number,
        where=one.where or "as marked on the photo",
        form="taken as linear" if one.width is None else "linear" if one.linear else "rounded",
        length=in_both(one.length, "mm"),
        width="not entered" if one.width is None else in_both(one.width, "mm") if one.width else TOO_FINE,
        crack="a crack, or may be one" if one.crack else "no crack",
        verdict=one.sentence.partition(". ")[2],
        decision=decision,
    )


def told(one: Indication, unit: str = "mm") -> str:
    """'Linear, 5 mm (about 0.1969 in) by 1.5 mm (…). ISO 23278 level 2 ends at …', first in the typed unit."""
    by = "" if one.width is None else f" by {in_both(one.width, unit)}" if one.width else f", {TOO_FINE} across"
    form = NO_WIDTH if one.width is None else "Linear" if one.linear else "Rounded"
    size = f"{form}, {in_both(one.length, unit)}{by}."
    verdict = one.sentence.partition(". ")[2]
    return f"{size} {verdict} {'A crack, or may be one.' if one.crack else 'Said to be no crack.'}"


FIGURES = (("uv_a_w_m2", "UV-A", "W/m²"), ("light_lux", "Light", "lx"), ("dwell_min", "Penetrant dwell", "min"),
           ("surface_c", "Surface temperature", "°C"))  # fmt: skip


def how(check: CrackCheck):
    """What was said of how it was done, in the order of the form; what was not said is left out."""
    texts = (
        ("Stage of the weld repair", dict(STAGES).get(check.stage, "") if check.stage else ""),
        ("Surface and cleaning", check.surface),
        ("Procedure", check.procedure),
        ("Technique", check.technique),
        ("Equipment", check.equipment),
        ("Consumables and batch", check.consumables),
        ("Looked at by", check.viewing),
    )
    yield from ((name, value) for name, value in texts if value)
    for field, name, unit in FIGURES:
        if getattr(check, field) is not None:
            yield name, f"{plain(getattr(check, field))} {unit}"
    yield from in_words(check.details)
    if check.directions_deg:
        yield "Magnetised in directions", f"{', '.join(check.directions_deg)} degrees"
    if check.demagnetised:
        yield "Demagnetised", check.demagnetised
    if check.level:
        yield "Acceptance level", f"{check.level} ({MEMORY})"
    if check.level_by:
        yield "The level was proposed by", ": ".join(filter(None, (str(check.level_by), check.level_reason)))
    if check.examiner_level or check.examiner_until:
        until = check.examiner_until
        ending = f"good until {day(until)}" if until else ""
        yield "Examiner's level", ", ".join(filter(None, (check.examiner_level, ending)))
