"""A network of activities: its critical path, and when each starts if people and machines are few. Exact and pure.

Times are in any one unit that the caller keeps to. They are read exactly: 0.1 is one tenth.
"""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import isfinite, lcm
from numbers import Rational
from typing import Generic, TypeVar

from parts.domain.scheduling import Project, best_starts

Name = TypeVar("Name", bound=Hashable)
Resource = TypeVar("Resource", bound=Hashable)
Number = int | float | Decimal | Fraction
After = Mapping[Name, Sequence[Name]]


@dataclass(frozen=True, slots=True)
class Activity:
    """One activity of a network, in the unit of its times; `variance` in that unit squared."""

    expected: Fraction
    variance: Fraction
    earliest_start: Fraction
    earliest_finish: Fraction
    latest_start: Fraction
    latest_finish: Fraction

    @property
    def slack(self) -> Fraction:
        return self.latest_start - self.earliest_start


@dataclass(frozen=True, slots=True)
class CriticalPath(Generic[Name]):
    """The longest way through a network. `critical` names it from first to last, `variance` is the sum along it."""

    length: Fraction
    variance: Fraction
    critical: list[Name]
    activities: dict[Name, Activity]


def critical_path(
    activities: Iterable[tuple[Name, Number, Number, Number, Iterable[Name]]],
) -> CriticalPath[Name]:
    """The critical path of `(name, optimistic, likely, pessimistic, after)`, by three-point times.

    Expected time (a + 4m + b) / 6, variance ((b - a) / 6)²: Malcolm, Roseboom, Clark and Fazar, "Application of a
    technique for research and development program evaluation", Operations Research 7 (1959). Of equally long paths the
    one of greatest variance is critical, then the first as given.

    Raises ValueError for a cycle, a name that is unknown or repeated, and times that are negative or out of order.

    >>> path = critical_path([("strip", 1, 2, 3, []), ("clean", 2, 2, 8, ["strip"])])
    >>> path.length, path.variance, path.critical
    (Fraction(5, 1), Fraction(10, 9), ['strip', 'clean'])
    """
    rows = list(activities)
    after = _after((name, befores) for name, _, _, _, befores in rows)
    times = {name: _three_times(name, shortest, likely, longest) for name, shortest, likely, longest, _ in rows}
    expected = {name: (a + 4 * m + b) / 6 for name, (a, m, b) in times.items()}
    variance = {name: ((b - a) / 6) ** 2 for name, (a, _, b) in times.items()}

    order = in_order(after)
    start, finish = _earliest(order, after, expected)
    length = max(finish.values(), default=Fraction(0))
    late = _latest_finish(order, after, expected, length)
    critical = _longest_path(order, after, finish, variance)
    return CriticalPath(
        length=length,
        variance=sum((variance[name] for name in critical), Fraction(0)),
        critical=critical,
        activities={
            name: Activity(
                expected[name], variance[name], start[name], finish[name], late[name] - expected[name], late[name]
            )
            for name in after
        },
    )


def queue_schedule(
    activities: Iterable[tuple[Name, Number, Iterable[Name], Mapping[Resource, Number] | None]],
    capacities: Mapping[Resource, Number],
) -> dict[Name, int | Fraction]:
    """When to start each of `(name, duration, after, needs)` so that the last is finished early.

    `needs` and `capacities` map a resource's name to units. An activity is not interrupted and holds what it needs
    throughout. The same rows give the same starts. The answer is good, not proved the best: see `scheduling`.

    Raises ValueError for a cycle, a name that is unknown or repeated, a resource that is unknown or too small, and
    what is negative.

    >>> queue_schedule([("bore", 3, [], {"lathe": 1}), ("turn", 2, [], {"lathe": 1}), ("fit", 4, ["turn"], {})],
    ...                {"lathe": 1})
    {'bore': 2, 'turn': 0, 'fit': 2}
    """
    rows = list(activities)
    after = _after((name, befores) for name, _, befores, _ in rows)
    duration = {name: _not_negative(time, f"The time of {name!r}") for name, time, _, _ in rows}
    held = {resource: _not_negative(units, f"The capacity of {resource!r}") for resource, units in capacities.items()}
    needs = {name: _needs(name, wanted or {}, held) for name, _, _, wanted in rows}

    order = in_order(after)
    scale = lcm(*(time.denominator for time in duration.values()))
    starts = best_starts(_project(order, after, {name: int(duration[name] * scale) for name in order}, needs, held))
    at = {name: Fraction(start, scale) for name, start in zip(order, starts, strict=True)}
    return {name: int(at[name]) if at[name].denominator == 1 else at[name] for name in after}


# --- reading what was given


def _after(pairs: Iterable[tuple[Name, Iterable[Name]]]) -> dict[Name, list[Name]]:
    """For each name, in the order given, what it goes on after."""
    after: dict[Name, list[Name]] = {}
    for name, befores in pairs:
        if name in after:
            raise ValueError(f"{name!r} is given twice.")
        if isinstance(befores, str):
            raise ValueError(f"What {name!r} goes on after must be a list of names, not the text {befores!r}.")
        after[name] = list(dict.fromkeys(befores or ()))
    for name, befores in after.items():
        for before in befores:
            if before not in after:
                raise ValueError(f"{name!r} goes on after {before!r}, which is not among the activities.")
    return after


def _number(value: object, what: str) -> Fraction:
    if isinstance(value, float) and isfinite(value):
        return Fraction(repr(float(value)))
    if isinstance(value, Rational) or (isinstance(value, Decimal) and value.is_finite()):
        return Fraction(value)
    raise ValueError(f"{what} is {value!r}, which is not a number.")


def _not_negative(value: object, what: str) -> Fraction:
    number = _number(value, what)
    if number < 0:
        raise ValueError(f"{what} is {value}, which is negative.")
    return number


def _three_times(name: object, *given: Number) -> tuple[Fraction, ...]:
    words = ("optimistic", "likely", "pessimistic")
    times = tuple(_not_negative(time, f"The {word} time of {name!r}") for word, time in zip(words, given, strict=True))
    if not times[0] <= times[1] <= times[2]:
        raise ValueError(
            f"The times of {name!r} are out of order: {', '.join(map(str, given))}. Give the shortest first."
        )
    return times


def _needs(
    name: object, wanted: Mapping[Resource, Number], held: Mapping[Resource, Fraction]
) -> dict[Resource, Fraction]:
    needs = {}
    for resource, units in wanted.items():
        if resource not in held:
            raise ValueError(f"{name!r} needs {resource!r}, which has no capacity given.")
        needs[resource] = _not_negative(units, f"What {name!r} needs of {resource!r}")
        if needs[resource] > held[resource]:
            raise ValueError(f"{name!r} needs {units} of {resource!r}, and there are only {held[resource]}.")
    return needs


# --- the order of a network


def in_order(after: After[Name]) -> list[Name]:
    """Every name behind all that it goes on after; as given where that leaves a choice. Raises ValueError on a loop."""
    following = _following(after)
    waiting = {name: len(befores) for name, befores in after.items()}
    order = [name for name, count in waiting.items() if not count]
    for name in order:
        for later in following[name]:
            waiting[later] -= 1
            if not waiting[later]:
                order.append(later)
    if len(order) < len(after):
        raise ValueError(_loop_sentence(after, {name for name, count in waiting.items() if count}))
    return order


def _following(after: After[Name]) -> dict[Name, list[Name]]:
    following: dict[Name, list[Name]] = defaultdict(list)
    for name, befores in after.items():
        for before in befores:
            following[before].append(name)
    return following


def _loop_sentence(after: After[Name], stuck: set[Name]) -> str:
    """Walks back among the names that wait for each other until one comes again."""
    walked = [next(name for name in after if name in stuck)]
    while walked.index(walked[-1]) == len(walked) - 1:
        walked.append(next(before for before in after[walked[-1]] if before in stuck))
    first, *loop = map(repr, walked[walked.index(walked[-1]) :])
    return f"The activities go round in a loop: {first} goes on after {', which goes on after '.join(loop)}."


# --- the critical path


def _earliest(
    order: Sequence[Name], after: After[Name], expected: Mapping[Name, Fraction]
) -> tuple[dict[Name, Fraction], dict[Name, Fraction]]:
    start: dict[Name, Fraction] = {}
    finish: dict[Name, Fraction] = {}
    for name in order:
        start[name] = max((finish[before] for before in after[name]), default=Fraction(0))
        finish[name] = start[name] + expected[name]
    return start, finish


def _latest_finish(
    order: Sequence[Name], after: After[Name], expected: Mapping[Name, Fraction], length: Fraction
) -> dict[Name, Fraction]:
    latest = dict.fromkeys(order, length)
    for name in reversed(order):
        for before in after[name]:
            latest[before] = min(latest[before], latest[name] - expected[name])
    return latest


def _longest_path(
    order: Sequence[Name], after: After[Name], finish: Mapping[Name, Fraction], variance: Mapping[Name, Fraction]
) -> list[Name]:
    """The longest path, then the one of greatest variance, then the first as given, from a start to an end."""
    given = {name: index for index, name in enumerate(after)}
    along: dict[Name, Fraction] = {}  # the greatest variance of a longest path that ends here
    came_from: dict[Name, Name] = {}

    def path(name: Name) -> list[Name]:
        return list(_back(came_from, name))[::-1]

    def longest(names: Iterable[Name], then: Sequence[int] = ()) -> Name:
        names = list(names)
        most = max((finish[name], along[name]) for name in names)
        tied = [name for name in names if (finish[name], along[name]) == most]
        return tied[0] if len(tied) == 1 else min(tied, key=lambda name: [*map(given.__getitem__, path(name)), *then])

    for name in order:
        if after[name]:
            came_from[name] = longest(after[name], [given[name]])
        along[name] = variance[name] + (along[came_from[name]] if after[name] else 0)
    following = _following(after)
    return path(longest(name for name in order if not following[name])) if order else []


def _back(came_from: Mapping[Name, Name], name: Name) -> Iterator[Name]:
    yield name
    while name in came_from:
        name = came_from[name]
        yield name


# --- few people and machines


def _project(
    order: Sequence[Name],
    after: After[Name],
    duration: Mapping[Name, int],
    needs: Mapping[Name, Mapping[Resource, Fraction]],
    held: Mapping[Resource, Fraction],
) -> Project:
    """The same network in whole numbers: an activity is its place in the order."""
    place = {name: index for index, name in enumerate(order)}
    units = lcm(*(n.denominator for each in needs.values() for n in each.values()))
    return Project(
        durations=[duration[name] for name in order],
        before=[[place[before] for before in after[name]] for name in order],
        needs=[[int(needs[name].get(resource, 0) * units) for resource in held] for name in order],
        capacities=[int(capacity * units) for capacity in held.values()],
    )
