"""What the page of a boiler shows: how it stands today, and all that is in its file."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.db.models import Prefetch, Q, QuerySet

from core.models.prepared import Scope, prepared
from parts.domain.plain import capital, day
from parts.models import Position

from ..domain.boiler_status import Against, Due, Entered, Tested, against, allowed_on, next_due
from ..domain.boiler_words import RecordKind
from ..domain.calculation_paper import LOWEST
from ..domain.pressures import read_pressure
from ..domain.two_units import in_unit
from ..models import Boiler, BoilerPart, BoilerRecord, SchemeRow
from . import sources


@dataclass(frozen=True, kw_only=True)
class SchemeLine:
    row: SchemeRow
    due: Due


@dataclass(frozen=True, kw_only=True)
class BoilerFile:
    """`allowed` is the working pressure as written in its last entry that says one; empty where none does."""

    boiler: Boiler
    allowed: str
    against: list[Against]
    scheme: list[SchemeLine]
    records: list[BoilerRecord]

    @property
    def drafts(self) -> list[BoilerRecord]:
        return [one for one in self.records if one.signed_at is None]

    @property
    def signed(self) -> list[BoilerRecord]:
        return [one for one in self.records if one.signed_at is not None]


def file_of(boiler: Boiler, today: date) -> BoilerFile:
    records = list(boiler.records.for_page())
    return BoilerFile(
        boiler=boiler,
        allowed=allowed_on(entries_of(boiler), today),
        against=_stands_against(boiler, records, sources.linked(_figures(records)), today),
        scheme=[SchemeLine(row=row, due=due(row, today)) for row in boiler.scheme.all() if not row.retired],
        records=records,
    )


def places_of(boiler: Boiler):
    """The places in the register that a part of the boiler may stand for: pressure parts, whatever the works calls the
    subassembly that they are in, and all of those that by their code are the boiler's; by name."""
    by_code = Q(subassembly__code__contains="boiler") | Q(subassembly__code__contains="firebox")
    found = Position.objects.filter(Q(pressure_part=True) | by_code, locomotive=boiler.locomotive_id)
    return found.order_by("name", "pk")


@dataclass(frozen=True, kw_only=True)
class BoilerNow:
    """One boiler on a locomotive, and what stands against it on the page of what blocks it."""

    boiler: Boiler
    due: list[str]
    against: list[str]

    @property
    def sentences(self) -> list[str]:
        return [*self.due, *self.against]


@dataclass(frozen=True, kw_only=True)
class ExaminationDue:
    """A row of a written scheme that is due; `until` is none where it was never done."""

    boiler: int
    words: str
    until: date | None


def boilers_of(locomotive, today: date) -> list[BoilerNow]:
    """The boilers of a locomotive, or all and the spares: in doubt, owed, and the rows of the scheme that are due."""
    found = _with_files({"locomotive": locomotive} if locomotive else {})
    known = sources.linked(figure for one in found for figure in _figures(one.records.all()))
    return [BoilerNow(boiler=one, due=_due(one, today), against=_against(one, known, today)) for one in found]


@prepared
def _with_files(scope: Scope) -> QuerySet[Boiler]:
    records = Prefetch("records", BoilerRecord.objects.select_related("superseded_by", "part"))
    found = Boiler.objects.filter(**scope) if scope else Boiler.objects.in_order()
    return found.prefetch_related(records, "entries", "scheme")


def examinations_due(locomotive, today: date) -> list[ExaminationDue]:
    rows = SchemeRow.objects.filter(boiler__locomotive=locomotive, retired=False).select_related("boiler")
    found = [(row, due(row, today)) for row in rows]
    return [
        ExaminationDue(boiler=row.boiler_id, words=f"{capital(str(row.boiler))}: {row}", until=one.until)
        for row, one in found
        if one.overdue
    ]


@dataclass(frozen=True, kw_only=True)
class Support:
    """A signed test that supports the release of a hold point; a bad one supports none."""

    words: str
    href: str
    good: bool


def supports_of(holds: Iterable[int]) -> dict[int, list[Support]]:
    found: dict[int, list[Support]] = {}
    on = "boiler__locomotive", "hold__overhaul"
    tests = BoilerRecord.objects.in_force().filter(hold__in=list(holds)).select_related(*on)
    for one in tests.order_by("-event"):
        good = one.passed and one.counts
        came_to = "passed" if good else "failed" if not one.passed else "does not count"
        words = f"{capital(one.title)} of {one.boiler}{_elsewhere(one)}, {day(one.on)}, {came_to}"
        support = Support(words=words, href=one.get_absolute_url(), good=good)
        found.setdefault(one.hold_id or 0, []).append(support)
    return found


def _elsewhere(test: BoilerRecord) -> str:
    """Where its boiler stands now, if it is not on the locomotive of the hold point."""
    overhaul, there = test.hold.overhaul if test.hold else None, test.boiler.locomotive
    if overhaul is None or overhaul.locomotive_id == (there and there.pk):
        return ""
    return f" (now on {there})" if there else " (a spare, on no locomotive)"


def _against(boiler: Boiler, known: Mapping[str, sources.Source], today: date) -> list[str]:
    found = _stands_against(boiler, list(boiler.records.all()), known, today)
    return [f"{'In doubt' if one.doubt else 'To do'}: {one.sentence}" for one in found]


def _stands_against(
    boiler: Boiler, records: list[BoilerRecord], known: Mapping[str, sources.Source], today: date
) -> list[Against]:
    found = [*in_doubt_or_owed(boiler, records), *_over_calculated(boiler, records, today)]
    return [*found, *_too_thin(records), *_stays_found(records), *_overtaken(records, known)]


def _over_calculated(boiler: Boiler, records: list[BoilerRecord], today: date) -> Iterator[Against]:
    """The pressure allowed, where the last calculation gives less."""
    allowed, calculations = allowed_on(entries_of(boiler), today), _calculations(records)
    last = max(calculations, key=lambda one: (one.on, one.pk), default=None)
    lowest = last.subject.get("gives", {}).get(LOWEST) if last else None
    if last and allowed and lowest and read_pressure(allowed) > read_pressure(lowest):
        told = f"{allowed} is allowed, and “{last.title}”, record {last.pk}, gives {lowest}. Ask the competent person."
        yield Against(doubt=False, sentence=told)


def _too_thin(records: Iterable[BoilerRecord]) -> Iterator[Against]:
    """Zones of the last survey of each plate that a pressure rests on less than the thickness needed today."""
    for part, one in _latest(records, RecordKind.SURVEY).items():
        for zone, figure in one.subject.get("gives", {}).items():
            if part and part.needed and Fraction(figure.removesuffix(" mm")) < part.needed:
                told = f"a pressure rests on {figure} of {in_unit(part.needed, 'mm')} needed. Ask the competent person."
                yield Against(doubt=False, sentence=f"{capital(part.name)}, {zone}: {told}")


def _stays_found(records: Iterable[BoilerRecord]) -> Iterator[Against]:
    """Stays of the last map of each plate that are broken, or over the stress allowed."""
    for one in _latest(records, RecordKind.STAY_MAP).values():
        yield from (Against(doubt=False, sentence=sentence) for sentence in one.subject.get("owed", ()))


def _latest(records: Iterable[BoilerRecord], kind: RecordKind) -> dict[BoilerPart | None, BoilerRecord]:
    found = [one for one in records if one.kind == kind and _stands(one)]
    return {one.part: one for one in sorted(found, key=lambda one: (one.on, one.pk))}


def _overtaken(records: Iterable[BoilerRecord], known: Mapping[str, sources.Source]) -> Iterator[Against]:
    """Calculations that stand and rest on what something later has taken the place of."""
    for one in _calculations(records):
        if late := sources.overtaken(one.entered.get("figures", ()), known):
            told = f"Calculate “{one.title}” again, record {one.pk}. {' '.join(late)}"
            yield Against(doubt=False, sentence=told)


def _calculations(records: Iterable[BoilerRecord]) -> list[BoilerRecord]:
    return [one for one in records if one.kind == RecordKind.CALCULATION and _stands(one)]


def _figures(records: Iterable[BoilerRecord]) -> list[dict]:
    return [figure for one in _calculations(records) for figure in one.entered.get("figures", ())]


def _stands(record: BoilerRecord) -> bool:
    return record.signed_at is not None and record.taken_over_by is None


def _due(boiler: Boiler, today: date) -> list[str]:
    rows = [due(row, today) for row in boiler.scheme.all() if not row.retired]
    return [f"Due by the written scheme: {one.sentence}." for one in rows if one.overdue]


def in_doubt_or_owed(boiler: Boiler, records: list[BoilerRecord]) -> list[Against]:
    """What stands against it by its tests and entries; `records` with what superseded them."""
    stand = [one for one in records if one.kind == RecordKind.TEST and _stands(one)]
    stand.sort(key=lambda one: one.event_id or 0)
    tested = [
        Tested(
            number=one.event_id or 0,
            sort=one.entered["sort"],
            on=one.on,
            passed=one.passed,
            counts=one.counts,
            owed=tuple(one.subject.get("owed", ())),
            working=read_pressure(one.entered["working"]),
        )
        for one in stand
    ]
    return against(tested, entries_of(boiler))


def entries_of(boiler: Boiler) -> list[Entered]:
    return [
        Entered(number=one.event_id, kind=one.kind, on=one.on, words=one.words, pressure=one.pressure)
        for one in boiler.entries.all()
    ]


def due(row: SchemeRow, today: date) -> Due:
    until = next_due(row.last, row.months)
    return Due(item=row.item, nature=row.nature, until=until, overdue=until is None or until < today)
