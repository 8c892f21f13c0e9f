"""When each subassembly and the whole locomotive will be together, how sure that is, and what decides it. Pure.

Many runs (`forecast_runs`) are put in order by the day on which they are done: half of them are done by one day, nine
in ten by another. What is not known is said: without people or open days there is no date.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from itertools import islice, starmap
from math import ceil, sqrt
from operator import itemgetter

import numpy as np

from parts.domain.forecast_rows import HANDS, Away, Find, ForecastJob, Hold, Work, Workshop
from parts.domain.forecast_runs import FIND_AT, NOBODY, Runs, WorkPlan, needs_of, overdue, plan_of, run
from parts.domain.opening import BEYOND
from parts.domain.plain import capital
from parts.domain.plain import day as told

MOST_TOLD = 6
LEAST_SHARE = 0.05
"""What decides fewer runs than this is not told. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Decider:
    """Something on the way that decided how late it got, in this share of the runs: work, or a queue that it waited in.
    `outside`: a release by others."""

    name: str
    share: float
    outside: bool = False


@dataclass(frozen=True, slots=True)
class HangsOn:
    """Something uncertain, and how closely the date follows it: Spearman's rank correlation, from -1 to 1."""

    what: str
    correlation: float


@dataclass(frozen=True, slots=True)
class Outlook:
    """The days by which one in ten, half and nine in ten runs are done; None where that is later than the last day
    that is known to be open."""

    one_in_ten: date | None
    half: date | None
    nine_in_ten: date | None
    decided_by: tuple[Decider, ...]
    hangs_on: tuple[HangsOn, ...]


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is `missing` is told instead of dates. What it `assumes` belongs beside every date that is shown."""

    missing: tuple[str, ...] = ()
    assumes: tuple[str, ...] = ()
    whole: Outlook | None = None
    subassemblies: Mapping[str, Outlook] = field(default_factory=dict)


def forecast(
    workshop: Workshop, *, runs: int = 2000, seed: int = 1, progress: Callable[[int, int], None] | None = None
) -> Forecast:
    """The forecast for a workshop; the same seed gives the same. Raises ValueError for work that cannot be ordered."""
    missing = tuple(what_is_missing(workshop))
    if missing:
        return Forecast(missing)
    done = run(plan_of(workshop), runs=runs, seed=seed, progress=progress)
    members = _members(done.plan)
    everything = list(range(len(done.plan.steps)))
    ends = [_end(done, steps) for steps in (everything, *members.values())]
    assumed = tuple(what_is_assumed(workshop))
    if not everything:
        return Forecast((), assumed)
    whole, *parts = _outlooks(done, ends)
    return Forecast((), assumed, whole, dict(zip(members, parts, strict=True)))


# --- what is not known


def what_is_missing(workshop: Workshop) -> Iterator[str]:
    """Sentences that say what must be entered before there can be a date."""
    if not workshop.open_days():
        yield "Enter the days on which the workshop is open."
    jobs = [work for work in workshop.all_work() if isinstance(work, ForecastJob)]
    if jobs and (workshop.hands is None or round(workshop.hands.likely) < 1):
        yield "Enter how many people are in on a usual day."
    unknown = dict.fromkeys(job.subassembly for job in jobs if job.minutes is None)
    yield from (f"Guess the work left on {workshop.names.get(code, code)}." for code in unknown)
    for job in jobs:
        yield from _missing_for(workshop, job)


def _missing_for(workshop: Workshop, job: ForecastJob) -> Iterator[str]:
    there = {each.name: each for each in workshop.resources}
    open_days = {day.date for day in workshop.open_days()}
    for name, units in needs_of(job).items():
        if name == HANDS or not units:
            continue
        if name not in there:
            yield f"Enter who or what does {name}: {job.name} needs it."
        elif there[name].units < units:
            yield f"Enter more of {name}: {job.name} needs {units}, and there is {there[name].units}."
        elif (days := there[name].days) is not None and not days & open_days:
            yield f"Enter the days on which {name} is in: {job.name} needs it."
    limits = [days for name in needs_of(job) if name in there and (days := there[name].days) is not None]
    if len(limits) > 1 and all(days & open_days for days in limits) and not open_days.intersection(*limits):
        yield f"Enter a day on which all are in whom {job.name} needs."


def what_is_assumed(workshop: Workshop) -> Iterator[str]:
    """Sentences that belong beside the dates."""
    days = workshop.open_days()
    a_week = 7 * len(days) / max((days[-1].date - days[0].date).days + 1, 7)
    yield f"The workshop is open {a_week:.1f} days a week."
    if workshop.hands:
        least, likely, most = map(round, workshop.hands)
        yield f"{likely} people are in on a usual day, {least} on a poor one and {most} on a good one."
    yield from workshop.assumes
    for work in workshop.all_work():
        if isinstance(work, Away) and work.promised and overdue(workshop, work):
            yield (
                f"{work.firm} promised {work.name} for {told(work.promised)} and is late. "
                "The forecast counts the usual delay from today."
            )
    yield from _not_ordered(workshop)
    finds = {work.find.kind: work.find for work in workshop.work if isinstance(work, ForecastJob) and work.find}
    for kind, find in finds.items():
        yield f"{capital(kind)}: a look finds something in {round(find.chance * 100)} of 100 cases{_by_what(find)}."


def _not_ordered(workshop: Workshop) -> Iterator[str]:
    """What comes after something is ordered when that is done, and needs no day."""
    by_day: dict[date, list[str]] = {}
    for work in workshop.all_work():
        if isinstance(work, Away) and not work.promised and not work.after:
            by_day.setdefault(work.ordered or workshop.today, []).append(work.name)
    for day, names in sorted(by_day.items()):
        yield f"Nobody has promised a day for {'; '.join(names)}. The forecast counts from {told(day)}."


def _by_what(find: Find) -> str:
    if find.guess is not None:
        return ", which is a guess"
    return f": of {find.looked} looked at, {find.found} needed work" if find.looked else ", for lack of any record"


# --- days


def _members(plan: WorkPlan) -> dict[str, list[int]]:
    """The steps of each subassembly, with those of all its parts."""
    members: dict[str, list[int]] = {}
    for index, step in enumerate(plan.steps):
        for code in _upwards(step.work.subassembly, plan.workshop.part_of):
            members.setdefault(code, []).append(index)
    return dict(sorted(members.items()))


def _upwards(code: str, part_of: Mapping[str, str]) -> list[str]:
    codes = []
    while code and code not in codes:
        codes.append(code)
        code = part_of.get(code, "")
    return codes


@dataclass(frozen=True, slots=True)
class _End:
    """How a subassembly ends in each run: its last step, the day, and the minute."""

    last: np.ndarray
    day: np.ndarray
    minute: np.ndarray


def _end(done: Runs, steps: list[int]) -> _End:
    if not steps:
        return _End(*(np.zeros(0, int),) * 3)
    when = done.day[steps].astype(np.int64) << 32 | done.finish[steps]
    last = np.array(steps)[when.argmax(axis=0)]
    latest = when.max(axis=0)
    return _End(last, latest >> 32, latest & 0xFFFFFFFF)


def day_of_share(days: np.ndarray, tenths: int) -> date | None:
    """The first day by which so many tenths of the runs are done."""
    ordinal = int(np.sort(days)[ceil(len(days) * tenths / 10) - 1])
    return None if ordinal >= BEYOND else date.fromordinal(ordinal)


def _outlooks(done: Runs, ends: list[_End]) -> list[Outlook]:
    jobs = _Jobs(done.plan)
    deciders = _decided_by(done, jobs, [end.last for end in ends])
    hangs_on = _hangs_on(done.drawn, jobs, [end.day << 32 | end.minute for end in ends])
    return [
        Outlook(day_of_share(end.day, 1), day_of_share(end.day, 5), day_of_share(end.day, 9), decided, hangs)
        for end, decided, hangs in zip(ends, deciders, hangs_on, strict=True)
    ]


# --- what decides


def _decided_by(done: Runs, jobs: "_Jobs", lasts: list[np.ndarray]) -> Iterator[tuple[Decider, ...]]:
    """For each end, what lies on the way to it: back from the last step through what each goes on after, and what they
    waited for in a queue. So what decides a subassembly is its own work and what that goes on after, and never work
    elsewhere that stood before it in a queue.

    The share is the criticality index of Monte Carlo scheduling (Van Slyke, Operations Research 11, 1963); told in the
    order of the time they take there. Parts of one job are told as one.
    """
    takes, queues = done.finish - done.start, _queues(done)
    for some in (lasts[first : first + 63] for first in range(0, len(lasts), 63)):
        on = _ways(done, some)
        for bit in range(len(some)):
            yield _deciders(jobs, on >> np.uint64(bit) & np.uint64(1) != 0, takes, queues)


def _queues(done: Runs) -> dict[str, tuple[list[int], np.ndarray]]:
    """By what they queue for, the steps that ever waited, and for how long."""
    queues: dict[str, tuple[list[int], list[np.ndarray]]] = {}
    for index, step in enumerate(done.plan.steps):
        names = [name for name, units in needs_of(step.work).items() if units]
        if names and (waits := done.waits(index)).any():
            what = " or ".join("people" if name == HANDS else name for name in names)
            steps, rows = queues.setdefault(f"Waiting for {what}", ([], []))
            steps.append(index)
            rows.append(waits)
    return {what: (steps, np.array(rows)) for what, (steps, rows) in queues.items()}


def _ways(done: Runs, lasts: list[np.ndarray]) -> np.ndarray:
    """For each step and run, as bits, the ends on whose way it lies."""
    count, runs = done.by.shape
    every = np.arange(runs)
    on = np.zeros((count, runs), np.uint64)
    for bit, last in enumerate(lasts):
        on[last, every] |= np.uint64(1 << bit)
    for index in reversed(range(count)):
        back = on[index].nonzero()[0]
        back = back[done.by[index, back] != NOBODY]
        on[done.by[index, back], back] |= on[index, back]
    return on


class _Jobs:
    """The steps by what they are told as."""

    def __init__(self, plan: WorkPlan) -> None:
        names = [getattr(step.work, "part_of", "") or step.work.name for step in plan.steps]
        self.told = {step.work.name: name for name, step in zip(names, plan.steps, strict=True)}
        self.told |= {FIND_AT.format(name): FIND_AT.format(whole) for name, whole in self.told.items()}
        self.names = list(dict.fromkeys(names))
        number = {name: n for n, name in enumerate(self.names)}
        self.of_step = np.array([number[name] for name in names], np.intp)
        self.outside = {name for name, step in zip(names, plan.steps, strict=True) if _is_outside(step.work)}

    def added_up(self, of_steps: np.ndarray) -> np.ndarray:
        return np.bincount(self.of_step, of_steps, len(self.names))


def _deciders(
    jobs: _Jobs, on: np.ndarray, takes: np.ndarray, queues: Mapping[str, tuple[list[int], np.ndarray]]
) -> tuple[Decider, ...]:
    spent = jobs.added_up(np.einsum("ij,ij->i", on, takes, dtype=np.float64))
    found = []
    for job in np.flatnonzero((jobs.added_up(on.mean(axis=1)) >= LEAST_SHARE) & (spent > 0)):
        name, share = jobs.names[job], float(on[jobs.of_step == job].any(axis=0).mean())
        if share >= LEAST_SHARE:
            found.append((-spent[job], Decider(name, share, name in jobs.outside)))
    for what, (steps, waits) in queues.items():
        waited = (waits * on[steps]).sum(axis=0, dtype=np.int64)
        often = np.count_nonzero(waited) / on.shape[1]
        if often >= LEAST_SHARE:
            found.append((-float(waited.sum()), Decider(what, often)))
    return tuple(each for _, each in sorted(found, key=itemgetter(0))[:MOST_TOLD])


def _is_outside(work: Work) -> bool:
    return isinstance(work, Hold) and work.outside


# --- what it hangs on


def ranks(values: np.ndarray) -> np.ndarray:
    """Ranks from 1; equal values share the mean of theirs."""
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    return (np.cumsum(counts) - (counts - 1) / 2)[place]


def _standard(values: np.ndarray) -> np.ndarray:
    """Ranks, so that the product of two is their rank correlation."""
    ranked = ranks(values)
    ranked -= ranked.mean()
    size = sqrt(ranked @ ranked)
    return ranked / size if size else ranked


def _hangs_on(
    drawn: Mapping[str, np.ndarray], jobs: _Jobs, ends: Iterable[np.ndarray]
) -> Iterator[tuple[HangsOn, ...]]:
    """Correlations that chance alone would hardly show: three times the standard error 1 / sqrt(runs - 1) and more. Of
    the parts of one job the strongest."""
    varied = {what: values for what, values in drawn.items() if len(values) and values.min() != values.max()}
    table = np.array([_standard(values) for values in varied.values()])
    for end in ends:
        found = dict(zip(varied, table @ _standard(end), strict=True)) if varied else {}
        least = 3 / sqrt(max(len(end) - 1, 1))
        strongest: dict[str, float] = {}
        for what in sorted(found, key=lambda what: -abs(found[what])):
            if abs(found[what]) >= least:
                strongest.setdefault(jobs.told.get(what, what), float(found[what]))
        yield tuple(starmap(HangsOn, islice(strongest.items(), MOST_TOLD)))
