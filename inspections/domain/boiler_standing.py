"""What stands against a boiler today and what is owed, from the rows of its file. It never says that one is fit.

A test that failed or does not count puts the boiler in doubt until a later one of the same sort counts and passed. A
lowered pressure owes valves and gauge mark reset; a pressure repair that is finished owes a hydraulic test.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from parts.domain.plain import day

from .boiler_words import EntryKind

HYDRAULIC = "hydraulic test"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tested:
    """A signed test that nothing superseded, oldest first. `owed` says what is owed because of it."""

    number: int
    sort: str
    on: date
    passed: bool
    counts: bool
    owed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """An entry of the file, oldest first; `number` is that of its event, as of a test."""

    number: int
    kind: str
    on: date
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """One thing that stands against the boiler: in doubt, or owed."""

    doubt: bool
    sentence: str


def against(tests: Sequence[Tested], entries: Sequence[Entered]) -> list[Against]:
    return [*_by_tests(tests), *_by_entries(tests, entries)]


def _by_tests(tests: Sequence[Tested]) -> Iterator[Against]:
    for bad in tests:
        if bad.passed and bad.counts:
            continue
        good = (one for one in tests if one.sort == bad.sort and one.number > bad.number)
        if any(one.passed and one.counts for one in good):
            continue
        why = "failed" if not bad.passed else "does not count"
        yield Against(doubt=True, sentence=f"The {bad.sort} of {day(bad.on)} {why}. Test it again, and let it count.")
        yield from (Against(doubt=False, sentence=sentence) for sentence in bad.owed)


def _by_entries(tests: Sequence[Tested], entries: Sequence[Entered]) -> Iterator[Against]:
    for one in entries:
        later = {other.kind for other in entries if other.number > one.number}
        if one.kind == EntryKind.PRESSURE_LOWERED and EntryKind.RESET not in later:
            yield Against(
                doubt=False,
                sentence=f"Reset safety valves and red mark of the gauge: the pressure was lowered on {day(one.on)}.",
            )
        if one.kind == EntryKind.REPAIR_BEGUN and EntryKind.REPAIR_DONE not in later:
            yield Against(doubt=False, sentence=f"Finish the pressure repair begun on {day(one.on)}: {one.words}")
        if one.kind == EntryKind.REPAIR_DONE and not _tested_since(tests, one.number):
            yield Against(
                doubt=False,
                sentence=f"Test the boiler with water after the pressure repair of {day(one.on)}: {one.words}",
            )


def _tested_since(tests: Iterable[Tested], number: int) -> bool:
    return any(one.sort == HYDRAULIC and one.number > number and one.passed and one.counts for one in tests)


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A row of the written scheme as it stands on a day. `until` is None where it was never done."""

    item: str
    nature: str
    until: date | None
    overdue: bool

    @property
    def sentence(self) -> str:
        when = f"due {day(self.until)}" if self.until else "never done"
        return f"{self.item}: {self.nature}, {when}"


def next_due(last: date | None, months: int) -> date | None:
    """So many months after it was done, on the last of a shorter month: 31 Aug and 6 months is 28 Feb."""
    if last is None:
        return None
    year, month = divmod(last.year * 12 + last.month - 1 + months, 12)
    for number in (last.day, 30, 29, 28):
        try:
            return date(year, month + 1, number)
        except ValueError:
            continue
    raise AssertionError("Every month has 28 days.")
