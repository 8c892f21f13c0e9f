"""What the page of a boiler shows: how it stands today, and all that is in its file."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch

from ..domain.boiler_standing import Against, Due, Entered, Tested, against, next_due
from ..domain.boiler_words import RecordKind
from ..models import Boiler, BoilerRecord, SchemeRow


@dataclass(frozen=True, kw_only=True)
class SchemeLine:
    row: SchemeRow
    due: Due


@dataclass(frozen=True, kw_only=True)
class BoilerFile:
    boiler: Boiler
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
        against=standing(boiler, [one for one in records if one.kind == RecordKind.TEST]),
        scheme=[SchemeLine(row=row, due=due(row, today)) for row in boiler.scheme.all() if not row.retired],
        records=records,
    )


@dataclass(frozen=True, kw_only=True)
class BoilerNow:
    """One boiler on a locomotive, and what stands against it on the page of what blocks it."""

    boiler: Boiler
    sentences: list[str]


def boilers_of(locomotive, today: date) -> list[BoilerNow]:
    """The boilers of a locomotive: in doubt, owed, and the rows of the scheme that are due."""
    tests = Prefetch("records", BoilerRecord.objects.filter(kind=RecordKind.TEST).select_related("superseded_by"))
    found = Boiler.objects.filter(locomotive=locomotive).prefetch_related(tests, "entries", "scheme")
    return [BoilerNow(boiler=one, sentences=[*_against(one), *_due(one, today)]) for one in found]


def _against(boiler: Boiler) -> list[str]:
    return [
        f"{'In doubt' if one.doubt else 'Owed'}: {one.sentence}" for one in standing(boiler, list(boiler.records.all()))
    ]


def _due(boiler: Boiler, today: date) -> list[str]:
    rows = [due(row, today) for row in boiler.scheme.all() if not row.retired]
    return [f"Due by the written scheme: {one.sentence}." for one in rows if one.overdue]


def standing(boiler: Boiler, tests: list[BoilerRecord]) -> list[Against]:
    """What stands against it; `tests` with what superseded them."""
    stand = [one for one in tests if one.signed_at and one.taken_over_by is None]
    stand.sort(key=lambda one: one.event_id or 0)
    tested = [
        Tested(
            number=one.event_id or 0,
            sort=one.entered["sort"],
            on=one.on,
            passed=one.passed,
            counts=one.counts,
            owed=tuple(one.subject.get("owed", ())),
        )
        for one in stand
    ]
    entries = [Entered(number=one.event_id, kind=one.kind, on=one.on, words=one.words) for one in boiler.entries.all()]
    return against(tested, entries)


def due(row: SchemeRow, today: date) -> Due:
    until = next_due(row.last, row.months)
    return Due(item=row.item, nature=row.nature, until=until, overdue=until is None or until < today)
