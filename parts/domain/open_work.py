"""The open work of a locomotive, as the forecast takes it, from what the register knows of each subassembly. Pure.

A guess is of all the work that is left on a subassembly. It is shared out over the steps that its pieces still have
before them, so that it shrinks as they are done. A step is one action in the life of a piece: strip, clean, examine,
accept, refit; each counts alike (common practice, no source).
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction
from statistics import median

from .forecast_rows import HANDS, Away, Day, Find, ForecastJob, Hold, ThreePoint, Workshop
from .words import Need

STEPS = {
    Need.STRIP: 5,
    Need.CLEAN: 4,
    Need.REPAIR: 4,
    Need.FIND: 4,
    Need.FETCH: 3,
    Need.RELEASE: 3,
    Need.DECIDE: 3,
    Need.RECHECK: 3,
    Need.CRACK_CHECK: 3,
    Need.EXAMINE: 3,
    Need.MEASURE: 3,
    Need.SIGN: 2,
    Need.SOURCE: 2,
    Need.AWAIT: 2,
    Need.FIT: 2,
    Need.AFTER: 2,
}
"""Steps before a place that leads with this need is refitted. A place of no need has refitting before it."""

TO_BE_LOOKED_AT = frozenset({Need.STRIP, Need.CLEAN, Need.CRACK_CHECK, Need.EXAMINE, Need.MEASURE})
AGAIN = 3
"""Steps that a find brings over again: mend, clean, examine."""
BATCHES = 3
"""The looks of a subassembly are forecast in so many parts, each with luck of its own."""

GETTING_READY, PUTTING_TOGETHER = "getting ready", "putting together"

UNKNOWN_LATE = ThreePoint(0, 14, 60)
UNKNOWN_ASKING = ThreePoint(7, 21, 60)
UNKNOWN_STEP = ThreePoint(14, 42, 120)
UNKNOWN_SOURCE = ThreePoint(60, 180, 365)
"""Days of the calendar where the log knows nothing yet. Common practice, no source; said beside the dates."""
UNKNOWN_PACE = ThreePoint(0.8, 1, 1.6)
NOT_GUESSED = ThreePoint(0.6, 1, 2.5)
"""Factors on the days of work, where the log gives no pace and where nobody guessed. Common practice, no source."""
ENOUGH_RECORDS = 3
ENOUGH_STEPS = 10
SLOWEST, QUICKEST = 4, Fraction(1, 2)
"""From so many on, records and steps tell something; a factor is never beyond these. Common practice, no source."""
HORIZON = 15 * 366
"""Days ahead for which the usual week is taken to go on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """What somebody guessed on a day: open days of work for so many hands, with so many steps left then."""

    days: ThreePoint
    hands: int
    steps: int
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenSubassembly:
    """A subassembly: `needs` counts its blocked places by what they need first, `ready` those that only go on.

    `after` names those that must be together before it goes together. `looked` and `found` are from the log: pieces
    that were looked at, and those of them that needed work.
    """

    code: str
    name: str
    parent: str = ""
    after: tuple[str, ...] = ()
    needs: Mapping[Need, int] = field(default_factory=dict)
    ready: int = 0
    looked: int = 0
    found: int = 0
    guess: Guess | None = None

    @property
    def steps(self) -> int:
        return self.ready + sum(STEPS.get(need, 0) * number for need, number in self.needs.items())

    @property
    def to_refit(self) -> int:
        return self.ready + sum(number for need, number in self.needs.items() if need in STEPS)

    @property
    def to_look_at(self) -> int:
        return sum(self.needs.get(need, 0) for need in TO_BE_LOOKED_AT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outside:
    """Something that a firm owes us for a subassembly; `more` are the steps of the same route after it."""

    name: str
    subassembly: str
    firm: str = ""
    promised: date | None = None
    ordered: date | None = None
    more: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """A hold point that is not released. `stops`: the actions it names; no subassembly: on the whole overhaul."""

    name: str
    subassembly: str = ""
    stops: tuple[str, ...] = ()
    outside: bool = True
    asked: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """What the log tells of the past: days late by firm, days from asking to release, and steps done lately.

    `steps` were done on `open_days` open days; with enough of both they give a pace where nobody guessed.
    """

    late: Mapping[str, Sequence[int]] = field(default_factory=dict)
    asking: Sequence[int] = ()
    steps: int = 0
    open_days: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """When the workshop is open: minutes by weekday (Monday first), days unlike it, and who comes."""

    week: tuple[int, ...] = (0,) * 7
    unusual: Mapping[date, int] = field(default_factory=dict)
    hands: ThreePoint | None = None
    by_people: bool = False  # hands are counted from who said that they come

    def days(self, first: date, count: int = HORIZON) -> tuple[Day, ...]:
        dates = (
            [first + timedelta(number) for number in range(count)] if any((*self.week, *self.unusual.values())) else []
        )
        return tuple(Day(date=day, minutes=self.minutes(day)) for day in dates if self.minutes(day))

    def minutes(self, day: date) -> int:
        return self.unusual.get(day, self.week[day.weekday()])

    @property
    def minutes_of_a_day(self) -> Fraction:
        """Of an open day as the week has it."""
        usual = [minutes for minutes in self.week if minutes] or [m for m in self.unusual.values() if m]
        return Fraction(sum(usual), len(usual)) if usual else Fraction(0)


def workshop_of(
    groups: Sequence[OpenSubassembly],
    outside: Sequence[Outside],
    releases: Sequence[Release],
    hours: Hours,
    log: Log,
    today: date,
    leave_out: Iterable[str] = (),
) -> Workshop:
    """Everything that the forecast is made from. `leave_out`: subassemblies left for later, with all their parts."""
    left_out = set(_with_parts(groups, leave_out))
    groups = [group for group in groups if group.code not in left_out]
    known = {group.code for group in groups}
    outside = [each for each in outside if each.subassembly in known]
    releases = [each for each in releases if not each.subassembly or each.subassembly in known]
    names = _Names()
    work = list(_away_and_holds(outside, releases, groups, log, names, today))
    before = {
        kind: [(each.name, each.subassembly) for each, when in work if when == kind] for kind in ("work", "assembly")
    }
    jobs = list(_jobs(groups, before, hours, log, names))
    everything = tuple(each for each, when in work if when != "end") + tuple(jobs)
    all_else = tuple(each.name for each in everything)  # is done before the whole overhaul is asked to be released
    ends = tuple(replace(each, after=all_else) for each, when in work if when == "end")
    return Workshop(
        today=today,
        days=hours.days(today),
        hands=hours.hands,
        work=everything + ends,
        late={firm: lateness(log, firm) for firm in sorted({each.firm for each in outside if each.firm})},
        pace={kind: pace(groups, hours, today) for kind in (GETTING_READY, PUTTING_TOGETHER)},
        part_of={group.code: group.parent for group in groups if group.parent},
        names={group.code: group.name for group in groups},
    )


def lateness(log: Log, firm: str) -> ThreePoint:
    """By how many days a firm is late: its own record; too few, that of all firms; none, what is usual."""
    own, everybody = log.late.get(firm, ()), [days for each in log.late.values() for days in each]
    return three_of(own if len(own) >= ENOUGH_RECORDS else everybody, UNKNOWN_LATE)


def three_of(records: Sequence[int], unknown: ThreePoint) -> ThreePoint:
    """The least, the median and the most on record; what is usual where there are too few.

    >>> three_of([3, 0, 40], UNKNOWN_LATE), three_of([5], UNKNOWN_ASKING)
    (ThreePoint(least=0, likely=3, most=40), ThreePoint(least=7, likely=21, most=60))
    """
    if len(records) < ENOUGH_RECORDS:
        return unknown
    return ThreePoint(min(records), median(records), max(records))


def pace(groups: Sequence[OpenSubassembly], hours: Hours, today: date) -> ThreePoint:
    """How much longer work has taken than guessed, from the steps done since the guesses; more than 1 is slower.

    The hands that were there since, over the hands that the steps done should have taken. The spread around it is that
    of an unknown pace (common practice, no source).
    """
    guessed = [(group, group.guess) for group in groups if group.guess and group.guess.steps > group.steps]
    done = sum(guess.steps - group.steps for group, guess in guessed)
    if done < ENOUGH_STEPS or not hours.hands:
        return UNKNOWN_PACE
    expected = sum(
        guess.days.expected * guess.hands * Fraction(guess.steps - group.steps, guess.steps) for group, guess in guessed
    )
    first = min(guess.on for _, guess in guessed)
    open_days = len(hours.days(first, (today - first).days))
    if not open_days or not expected:
        return UNKNOWN_PACE
    now = float(open_days * hours.hands.expected / expected)
    factor = min(max(now, float(QUICKEST)), float(SLOWEST))
    return ThreePoint(*(factor * each for each in UNKNOWN_PACE))


def days_guessed(group: OpenSubassembly, hours: Hours, log: Log) -> tuple[ThreePoint, int] | None:
    """Open days of all the work left, and for how many hands: the guess, shrunk by what was done since; or else the
    pace of the whole workshop; None where neither is known."""
    if group.guess and group.guess.steps:
        left = min(Fraction(group.steps, group.guess.steps), Fraction(1))
        return ThreePoint(*(float(Fraction(each) * left) for each in group.guess.days)), group.guess.hands
    if log.steps >= ENOUGH_STEPS and log.open_days and hours.hands:
        days = float(Fraction(group.steps * log.open_days, log.steps))
        return ThreePoint(*(days * each for each in NOT_GUESSED)), max(round(hours.hands.likely), 1)
    return None


# --- the work


def _away_and_holds(
    outside: Sequence[Outside],
    releases: Sequence[Release],
    groups: Sequence[OpenSubassembly],
    log: Log,
    names: "_Names",
    today: date,
) -> Iterator[tuple[Away | Hold, str]]:
    """What others do, each with what it stands before: "work", "assembly", or the "end" of it all."""
    for each in outside:
        name = names.new(each.name)
        yield (
            Away(
                name=name,
                subassembly=each.subassembly,
                firm=each.firm,
                promised=each.promised,
                ordered=each.ordered,
                days=UNKNOWN_STEP,
            ),
            "assembly",
        )
        if each.more:
            days = ThreePoint(*(each.more * days for days in UNKNOWN_STEP))
            more = names.new(f"What comes after: {each.name}")
            yield Away(name=more, subassembly=each.subassembly, firm="", days=days, after=(name,)), "assembly"
    for group in groups:
        if number := group.needs.get(Need.SOURCE, 0):
            name = names.new(f"New pieces for {group.name} ({number})")
            yield Away(name=name, subassembly=group.code, firm="", days=UNKNOWN_SOURCE), "assembly"
    days = three_of(log.asking, UNKNOWN_ASKING)
    for release in releases:
        left = days
        if release.asked:  # some of the time has passed already
            left = ThreePoint(*(max(each - (today - release.asked).days, min(each, 1)) for each in days))
        hold = Hold(name=names.new(release.name), subassembly=release.subassembly, days=left, outside=release.outside)
        yield hold, _stands_before(release)


def _stands_before(release: Release) -> str:
    if not release.subassembly:
        return "end"
    return "work" if {"strip", "clean"} & set(release.stops) else "assembly"


def _jobs(
    groups: Sequence[OpenSubassembly],
    before: Mapping[str, Sequence[tuple[str, str]]],
    hours: Hours,
    log: Log,
    names: "_Names",
) -> Iterator[ForecastJob]:
    """For each subassembly: getting its pieces ready, in parts that may find something, then putting it together."""
    together = {group.code: names.new(f"Put together: {group.name}") for group in groups if group.to_refit}
    for group in groups:
        if not group.to_refit:
            continue
        guessed = days_guessed(group, hours, log)
        held = tuple(name for name, code in before["work"] if code == group.code)
        ready = list(_getting_ready(group, guessed, hours, held, names))
        yield from ready
        waits = [name for name, code in before["assembly"] if code == group.code]
        waits += [together[code] for code in _with_parts(groups, group.after) if code in together]
        yield ForecastJob(
            name=together[group.code],
            subassembly=group.code,
            minutes=_share(guessed, group.to_refit, group, hours),
            kind=PUTTING_TOGETHER,
            after=tuple(dict.fromkeys([*(job.name for job in ready), *held, *waits])),
            needs={HANDS: guessed[1]} if guessed else {},
        )


def _getting_ready(
    group: OpenSubassembly, guessed: tuple[ThreePoint, int] | None, hours: Hours, held: tuple[str, ...], names: "_Names"
) -> Iterator[ForecastJob]:
    steps = group.steps - group.to_refit
    if not steps:
        return
    parts = max(min(group.to_look_at, BATCHES), 1)
    needs = {HANDS: guessed[1]} if guessed else {}
    for number in range(1, parts + 1):
        part = f", part {number} of {parts}" if parts > 1 else ""
        whole = f"Get ready: {group.name}"
        name = names.new(f"{whole}{part}")
        again = _share(guessed, Fraction(group.to_look_at * AGAIN, parts), group, hours)
        loop = ForecastJob(
            name=names.new(f"Mend what is found on {group.name}{part}"),
            subassembly=group.code,
            minutes=again,
            part_of=f"Mend what is found on {group.name}" if part else "",
            kind=GETTING_READY,
            needs=needs,
        )
        find = Find(kind=group.name, loop=(loop,), found=group.found, looked=group.looked)
        yield ForecastJob(
            name=name,
            subassembly=group.code,
            minutes=_share(guessed, Fraction(steps, parts), group, hours),
            part_of=whole if part else "",
            kind=GETTING_READY,
            after=held,
            needs=needs,
            find=find if group.to_look_at else None,
        )


def _share(
    guessed: tuple[ThreePoint, int] | None, steps: int | Fraction, group: OpenSubassembly, hours: Hours
) -> ThreePoint | None:
    """Minutes of so many of the steps that are left; None without a guess."""
    if guessed is None:
        return None
    share = float(Fraction(steps) / group.steps * hours.minutes_of_a_day)
    return ThreePoint(*(share * each for each in guessed[0]))


def _with_parts(groups: Sequence[OpenSubassembly], codes: Iterable[str]) -> list[str]:
    """These subassemblies and all their parts."""
    found = list(dict.fromkeys(codes))
    for code in found:
        found += [group.code for group in groups if group.parent == code and group.code not in found]
    return found


class _Names:
    """Each name once: the second of a name carries a number."""

    def __init__(self) -> None:
        self.given: Counter[str] = Counter()

    def new(self, name: str) -> str:
        self.given[name] += 1
        return name if self.given[name] == 1 else f"{name} ({self.given[name]})"
