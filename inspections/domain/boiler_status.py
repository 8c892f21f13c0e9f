"""What stands against a boiler today and what is owed, from the rows of its file. It never says that one is fit.

A test that failed or does not count puts the boiler in doubt until a later one of the same sort counts and passed. A
lowered pressure owes safety valves and gauge mark set for it, until a signed test of each counts and passed or the file
says that they were reset; a pressure repair that is finished owes a hydraulic test.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from parts.domain.plain import day

from .boiler_words import PRESSURE_KINDS, EntryKind
from .pressures import in_both, read_pressure

HYDRAULIC = "hydraulic test"
OWED_WHEN_LOWERED = {"safety-valve setting": "Set the safety valves", "gauge and glass check": "Set the red mark"}
"""Sort of the test that shows it done, and what is to be done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tested:
    """A signed test that nothing superseded, oldest first. `owed` says what is owed because of it."""

    number: int
    sort: str
    on: date
    passed: bool
    counts: bool
    owed: tuple[str, ...] = ()
    working: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """An entry of the file, oldest first; `number` is that of its event, as of a test."""

    number: int
    kind: str
    on: date
    words: str
    pressure: str = ""


def allowed_on(entries: Iterable[Entered], on: date) -> str:
    """The working pressure allowed on a day, as written in the last entry that says one; empty where none does."""
    told = [(one.on, one.number, one.pressure) for one in entries if one.pressure and one.on <= on]
    return max(told)[2] if told else ""


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
        if one.kind == EntryKind.PRESSURE_LOWERED and not later & {EntryKind.RESET, *PRESSURE_KINDS}:
            yield from _when_lowered(tests, one)
        if one.kind == EntryKind.REPAIR_BEGUN and EntryKind.REPAIR_DONE not in later:
            yield Against(doubt=False, sentence=f"Finish the pressure repair begun on {day(one.on)}: {one.words}")
        if one.kind == EntryKind.REPAIR_DONE and not _tested_since(tests, one.number):
            yield Against(
                doubt=False,
                sentence=f"Test the boiler with water after the pressure repair of {day(one.on)}: {one.words}",
            )


def _when_lowered(tests: Sequence[Tested], lowered: Entered) -> Iterator[Against]:
    """Shown by a later test for no more than the lowered pressure."""
    most = read_pressure(lowered.pressure)
    for sort, do in OWED_WHEN_LOWERED.items():
        later = (one for one in tests if one.sort == sort and one.number > lowered.number)
        if not any(one.passed and one.counts and (one.working or most + 1) <= most for one in later):
            why = f"the pressure was lowered on {day(lowered.on)}"
            yield Against(doubt=False, sentence=f"{do} for {in_both(most)}: {why}. Record it as a {sort}.")


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
