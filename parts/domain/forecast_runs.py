"""Many runs through the open work of a workshop, each with its own luck, all served in one order. Pure but for numpy.

The order of the queues is that of `queue_schedule` for expected times. A job that comes later in it goes first only
into time that none before it can use. What an order of the calendar decides, a promise or an answer, ends on a day.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from parts.domain.chances import Chances
from parts.domain.forecast_rows import (
    AS_THOUGHT,
    HANDS,
    NOTHING,
    Away,
    Find,
    ForecastJob,
    Hold,
    Resource,
    ThreePoint,
    Work,
    Workshop,
)
from parts.domain.network import in_order, queue_schedule
from parts.domain.opening import BEYOND, OpeningTime, Presence
from parts.domain.queues import Fields, Queues

CHUNK = 500  # runs that are worked out together, so that they fit the processor's cache
NOBODY = -1
FIND_AT = "a find at {}"  # of a job, as it is drawn


@dataclass(frozen=True, slots=True)
class ForecastStep:
    """One piece of work in the order in which it is served. `found_by` is the look that must find something first."""

    work: Work
    after: tuple[int, ...]
    found_by: str = ""


@dataclass
class WorkPlan:
    """A workshop's open work in the order of its queues, and the days it has."""

    workshop: Workshop
    opening: OpeningTime
    steps: list[ForecastStep]

    @cached_property
    def finds(self) -> dict[str, Find]:
        return {work.name: work.find for work in self.workshop.work if isinstance(work, ForecastJob) and work.find}

    @cached_property
    def capacities(self) -> dict[str, int]:
        """The most units there can be; hands on the best day."""
        hands = self.workshop.hands or NOTHING
        return {HANDS: max(round(hands.most), 1)} | {each.name: each.units for each in self.workshop.resources}

    @cached_property
    def presences(self) -> list[Presence | None]:
        """For each step, when all it needs are in; None where that is whenever it is open."""
        limited = {each.name: each for each in self.workshop.resources if each.days is not None}
        made: dict[tuple[Resource, ...], Presence] = {}
        presences = []
        for step in self.steps:
            wanted = [limited[name] for name, units in needs_of(step.work).items() if units and name in limited]
            together = tuple(sorted(wanted, key=lambda each: each.name))
            if together and together not in made:
                days = frozenset.intersection(*(each.days for each in together if each.days is not None))
                made[together] = Presence(self.opening, days, _fewest([each.hours for each in together if each.hours]))
            presences.append(made.get(together))
        return presences


def _fewest(weeks: Sequence[tuple[int | None, ...]]) -> tuple[int | None, ...]:
    """By weekday, the minutes in which all of them can be used; None for whenever it is open."""
    return tuple(min((each for each in days if each is not None), default=None) for days in zip(*weeks, strict=True))


@dataclass
class Runs:
    """What happened: arrays of steps by runs, in opening minutes, and `day`, the ordinal on which each is done.

    `by` is the last to end of the steps that this one goes on after, or NOBODY. `drawn` holds what each run drew, by
    what it is.
    """

    plan: WorkPlan
    start: np.ndarray
    finish: np.ndarray
    day: np.ndarray
    by: np.ndarray
    drawn: dict[str, np.ndarray] = field(default_factory=dict)

    def waits(self, index: int) -> np.ndarray:
        """For how long a step waited in a queue, when all that it goes on after was done."""
        by = self.by[index]
        ready = np.where(by == NOBODY, 0, self.finish[by, np.arange(len(by))])
        waits: np.ndarray = self.start[index] - ready
        return waits

    def starts(self, run: int = 0) -> dict[str, int]:
        return {step.work.name: int(start) for step, start in zip(self.plan.steps, self.start[:, run], strict=True)}


def needs_of(work: Work) -> dict[str, int]:
    return dict(work.needs) if isinstance(work, ForecastJob) else {}


# --- the order


def plan_of(workshop: Workshop) -> WorkPlan:
    """Serves everything once in its expected time. Raises ValueError on a loop, and on a name unknown or repeated."""
    opening = OpeningTime(workshop.open_days())
    after, found_by = order_of(workshop)
    usual = round((workshop.hands or NOTHING).likely)
    capacities = {HANDS: usual} | {each.name: each.units for each in workshop.resources}
    starts = queue_schedule(expected_rows(workshop, opening, after, found_by), capacities)
    place = {name: index for index, name in enumerate(in_order(after))}
    order = sorted(place, key=lambda name: (starts[name], place[name]))
    served = {name: index for index, name in enumerate(order)}
    work = {each.name: each for each in workshop.all_work()}
    steps = [
        ForecastStep(work[name], tuple(served[before] for before in after[name]), found_by.get(name, ""))
        for name in order
    ]
    return WorkPlan(workshop, opening, steps)


ExpectedName = str | tuple[str, str]
"""Of the work; or, with "until" before it, of the time before a firm can do it."""


def expected_rows(
    workshop: Workshop, opening: OpeningTime, after: Mapping[str, Sequence[str]], found_by: Mapping[str, str]
) -> Iterator[tuple[ExpectedName, int, Sequence[ExpectedName], dict[str, int]]]:
    """Rows for `queue_schedule`; before what a firm does stands the time until it can be done, or begun.

    A find's loop counts with its chance, and a job for more hands than there usually are takes longer with those.
    """
    usual = round((workshop.hands or NOTHING).likely)
    chances = {each.name: each.find.chance for each in workshop.work if isinstance(each, ForecastJob) and each.find}
    for work in workshop.all_work():
        chance = chances[found_by[work.name]] if work.name in found_by else 1
        minutes, wait = _expected(workshop, opening, work)
        needs = needs_of(work)
        if needs.get(HANDS, 0) > usual:
            minutes = -(-minutes * needs[HANDS] // usual)
            needs[HANDS] = usual
        waits = [("until", work.name)] if wait else []
        yield from ((name, round(wait * chance), [], {}) for name in waits)
        yield work.name, round(minutes * chance), [*after[work.name], *waits], needs


def order_of(workshop: Workshop) -> tuple[dict[str, list[str]], dict[str, str]]:
    """What goes on after what, loops of finds included, and the look that each step of such a loop hangs on."""
    ends: dict[str, str] = {}
    found_by: dict[str, str] = {}
    chain: dict[str, str] = {}
    for work in workshop.work:
        before = work.name
        for more in work.find.loop if isinstance(work, ForecastJob) and work.find else ():
            if isinstance(more, ForecastJob) and more.find:
                raise ValueError(f"{more.name!r} follows a find, and cannot bring a find itself.")
            chain[more.name], found_by[more.name] = before, work.name
            before = ends[work.name] = more.name
    names = [work.name for work in workshop.all_work()]
    if len(names) > len(set(names)):
        raise ValueError(f"{next(name for name in names if names.count(name) > 1)!r} is given twice.")
    after = {}
    for work in workshop.all_work():
        befores = [chain[work.name]] if work.name in chain else []
        befores += [more for before in work.after for more in (before, ends.get(before)) if more]
        after[work.name] = list(dict.fromkeys(befores))
        for before in befores:
            if before not in names:
                raise ValueError(f"{work.name!r} goes on after {before!r}, which is not among the work.")
    return after, found_by


def _expected(workshop: Workshop, opening: OpeningTime, work: Work) -> tuple[int, int]:
    """Opening minutes that it is expected to take, and the opening minute before which a firm is not done."""
    if isinstance(work, ForecastJob):
        assert work.minutes is not None  # without a guess there is no forecast
        return round(work.minutes.expected * workshop.pace.get(work.kind, AS_THOUGHT).expected), 0
    if isinstance(work, Hold):
        return round(work.days.expected * opening.minutes_a_day()), 0
    first, lead = starting_days(workshop, work)
    late = max(round(workshop.late.get(work.firm, NOTHING).expected), int(overdue(workshop, work)))
    if work.promised:
        return 0, int(opening.minute_of(np.array(first + late)))
    return round((lead.expected + late) * opening.minutes_a_day()), int(opening.minute_of(np.array(first)))


def overdue(workshop: Workshop, away: Away) -> bool:
    return away.promised is not None and away.promised < workshop.today


def starting_days(workshop: Workshop, away: Away) -> tuple[int, ThreePoint]:
    """The day from which a firm is counted, and how long it takes from there but for being late.

    A promise that has passed was not kept: the firm is as late as it usually is from today.
    """
    if away.promised:
        return max(away.promised, workshop.today).toordinal(), NOTHING
    return max(away.ordered or workshop.today, workshop.today).toordinal(), away.days


# --- the runs


def run(plan: WorkPlan, *, runs: int, seed: int, progress: Callable[[int, int], None] | None = None) -> Runs:
    """Works through the plan in each run. `progress` is told how many runs are done, and of how many."""
    drawn, takes = _draw(plan, Chances(seed, runs))
    count = len(plan.steps)
    start, finish, day, by = (np.zeros((count, runs), np.int32) for _ in range(4))
    found = Runs(plan, start, finish, day, by, drawn)
    chunks = [slice(first, min(first + CHUNK, runs)) for first in range(0, runs, CHUNK)]
    with ThreadPoolExecutor(2) as workers:
        done = 0
        for chunk in workers.map(lambda chunk: _work_through(found, takes, chunk), chunks):
            done += chunk.stop - chunk.start
            if progress:
                progress(done, runs)
    return found


def _draw(plan: WorkPlan, chances: Chances) -> tuple[dict[str, np.ndarray], np.ndarray]:
    """What each run drew, by name; and how long each step takes, minutes of a job or days of the calendar."""
    workshop = plan.workshop
    drawn = {HANDS: np.maximum(np.rint(chances.three_point(HANDS, workshop.hands or NOTHING)), 1)}
    for kind, factor in workshop.pace.items():
        drawn[f"pace of {kind}"] = chances.three_point(f"pace of {kind}", factor)
    for firm, late in workshop.late.items():
        drawn[f"lateness of {firm}"] = chances.three_point(f"lateness of {firm}", late)
    for name, find in plan.finds.items():
        drawn[FIND_AT.format(name)] = chances.found(name, find)
    takes = np.zeros((len(plan.steps), chances.runs), np.int32)
    for index, step in enumerate(plan.steps):
        takes[index] = np.rint(_duration(plan, step, chances, drawn))
    return drawn, takes


def _duration(plan: WorkPlan, step: ForecastStep, chances: Chances, drawn: dict[str, np.ndarray]) -> np.ndarray:
    work = step.work
    if isinstance(work, ForecastJob):
        assert work.minutes is not None  # without a guess there is no forecast
        own = drawn[work.name] = chances.three_point(work.name, work.minutes)
        duration = own * drawn.get(f"pace of {work.kind}", 1.0)
        wanted = needs_of(work).get(HANDS, 0)
        longer = np.maximum(wanted / drawn[HANDS], 1)  # with fewer hands than it needs
        duration = np.ceil(np.rint(duration) * longer - 1e-9)  # a quotient may lie a hair over a whole minute
    elif isinstance(work, Hold):
        duration = drawn[work.name] = chances.three_point(work.name, work.days)
    else:
        lead = drawn[work.name] = chances.three_point(work.name, starting_days(plan.workshop, work)[1])
        late = drawn.get(f"lateness of {work.firm}", 0.0)
        duration = np.maximum(lead + late, overdue(plan.workshop, work))
    return duration * (drawn[FIND_AT.format(step.found_by)] if step.found_by else 1)


def _work_through(found: Runs, takes: np.ndarray, chunk: slice) -> slice:
    """One chunk of the runs, step by step in the order of the plan."""
    plan, hands = found.plan, found.drawn[HANDS][chunk].astype(np.int64)
    fields = Fields(plan.capacities)
    queues = Queues(fields, plan.capacities | {HANDS: hands}, len(hands), at_once=_at_once(plan))
    start, finish, day, by = (array[:, chunk] for array in (found.start, found.finish, found.day, found.by))
    for index, step in enumerate(plan.steps):
        ready, asked, by[index] = _ready(plan, step.after, finish, day)
        duration = takes[index, chunk]
        needs: dict[str, np.ndarray | int] = {name: units for name, units in needs_of(step.work).items() if units}
        if isinstance(step.work, ForecastJob):
            if HANDS in needs:
                needs[HANDS] = np.minimum(needs[HANDS], hands)
            if needs:
                start[index], finish[index] = queues.claim(ready, duration, needs, plan.presences[index])
            else:
                start[index], finish[index] = ready, ready + duration
            day[index] = np.maximum(plan.opening.day_of_finish(finish[index]), asked * (duration == 0))
        else:
            start[index] = ready
            happens = found.drawn[FIND_AT.format(step.found_by)][chunk] if step.found_by else True
            day[index] = np.where(happens, _answered(plan, step.work, asked, duration), asked)
            finish[index] = np.where(happens, np.maximum(ready, plan.opening.minute_of(day[index])), ready)
    return chunk


def _at_once(plan: WorkPlan) -> int:
    return min(sum(plan.capacities.values()), len(plan.steps))


def _ready(
    plan: WorkPlan, after: Sequence[int], finish: np.ndarray, day: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The minute and the day on which all before it are done, and the last of them."""
    ready = np.zeros(finish.shape[1], np.int32)
    asked = np.full(finish.shape[1], plan.workshop.today.toordinal(), np.int32)
    by = np.full(finish.shape[1], NOBODY, np.int32)
    for before in after:
        later = (finish[before] > ready) | (by == NOBODY) | ((finish[before] == ready) & (day[before] > asked))
        by = np.where(later, before, by)
        ready = np.maximum(ready, finish[before])
        asked = np.maximum(asked, day[before])
    return ready, asked, by


def _answered(plan: WorkPlan, work: Away | Hold, asked: np.ndarray, days: np.ndarray) -> np.ndarray:
    """The day on which a firm or a releaser is done."""
    done: np.ndarray
    if isinstance(work, Hold):
        done = np.minimum(asked + days, BEYOND)
        return done
    first, _ = starting_days(plan.workshop, work)
    if work.promised:
        done = np.maximum(asked, first + days)
    else:
        done = np.minimum(np.maximum(asked, first) + days, BEYOND)
    return done
