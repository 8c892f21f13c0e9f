"""Resource-constrained project scheduling: a good order of work for few people and machines. Whole numbers, pure.

Schedules are made serially, each activity at its earliest time in the gaps that are left (Kelley 1963), in the order of
several priority rules; made better by double justification (Valls, Ballestín and Quintanilla, European Journal of
Operational Research 165, 2005); and crossed with each other as lists of activities (Hartmann, Naval Research Logistics
45, 1998). The search ends at a length that no schedule can go under, or after a number of schedules that depends on
the size alone, so that the same project gives the same answer on any machine.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import cached_property
from heapq import heapify, heappop, heappush
from random import Random
from typing import Any

PLACINGS = 240_000  # of one activity each, in the whole search
LEAST_SCHEDULES, MOST_SCHEDULES = 24, 8_000
PARENTS = 40  # as many lists are kept to be crossed
STALE = 150  # after so many children that were no better come other parents
SWAPPED = 0.1  # of neighbours in a child's list


class Project:
    """A project in whole numbers. `before[j]` holds places lower than j; `needs[j]` runs parallel to `capacities`.

    What is free of all resources is one whole number, a field of bits for each with a guard bit on top. Taking a need
    away clears the guard of every field that has too little, so one subtraction asks all resources at once.
    """

    def __init__(
        self,
        *,
        durations: Sequence[int],
        before: Sequence[Sequence[int]],
        needs: Sequence[Sequence[int]],
        capacities: Sequence[int],
    ):
        self.durations, self.before, self.units, self.capacities = durations, before, needs, capacities
        self.after: list[list[int]] = [[] for _ in before]
        for j, befores in enumerate(before):
            for i in befores:
                self.after[i].append(j)
        self.needs, self.free, self.guard = self._packed()

    def __len__(self) -> int:
        return len(self.durations)

    def _packed(self) -> tuple[list[int], int, int]:
        shift, free, guard = 0, 0, 0
        needs = [0] * len(self)
        for resource, capacity in enumerate(self.capacities):
            top = 1 << (shift + capacity.bit_length())
            free |= (capacity << shift) | top
            guard |= top
            needs = [need | (units[resource] << shift) for need, units in zip(needs, self.units, strict=True)]
            shift += capacity.bit_length() + 1
        return needs, free, guard

    @cached_property
    def heads(self) -> list[int]:
        """The earliest start of each if nothing were scarce."""
        heads = [0] * len(self)
        for j, befores in enumerate(self.before):
            heads[j] = max((heads[i] + self.durations[i] for i in befores), default=0)
        return heads

    @cached_property
    def tails(self) -> list[int]:
        """The least time from the start of each to the end of all."""
        tails = list(self.durations)
        for j in reversed(range(len(self))):
            tails[j] += max((tails[k] for k in self.after[j]), default=0)
        return tails

    @cached_property
    def least_length(self) -> int:
        """No schedule is shorter: the critical path, and for each resource its work between the first and the last."""
        least = max((head + tail for head, tail in zip(self.heads, self.tails, strict=True)), default=0)
        for resource, capacity in enumerate(self.capacities):
            users = [j for j in range(len(self)) if self.units[j][resource] and self.durations[j]]
            if users:
                work = sum(self.units[j][resource] * self.durations[j] for j in users)
                first = min(self.heads[j] for j in users)
                last = min(self.tails[j] - self.durations[j] for j in users)
                least = max(least, first - (-work // capacity) + last)
        return least


def best_starts(project: Project) -> list[int]:
    """A start for each activity, by a bounded search; the schedule is active: none can start earlier by itself."""
    if not len(project):
        return []
    search = _Search(project)
    search.by_rules()
    while not search.over:
        search.by_crossing()
    return search.starts


def place_serially(project: Project, order: Sequence[int], before: Sequence[Sequence[int]]) -> list[int]:
    """The finish of each, placed one by one at the earliest time its needs are free. `before` may be the reverse."""
    durations, needs, guard = project.durations, project.needs, project.guard
    times, free = [0], [project.free]  # free[k] holds from times[k] to times[k + 1], the last for ever
    finish = [0] * len(durations)
    for j in order:
        start = 0
        for i in before[j]:
            if finish[i] > start:
                start = finish[i]
        if needs[j] and durations[j]:
            start = _claim(times, free, start, durations[j], needs[j], guard)
        finish[j] = start + durations[j]
    return finish


def _claim(times: list[int], free: list[int], start: int, duration: int, need: int, guard: int) -> int:
    """Takes the need out of what is free, for the earliest such time from `start` on. Gives the time it begins."""
    first = bisect_right(times, start) - 1
    k, last = first, len(times)
    while True:
        if (free[k] - need) & guard != guard:
            first = k = k + 1
            start = times[k]
            continue
        k += 1
        if k == last or times[k] >= start + duration:
            break
    if k == last or times[k] != start + duration:
        times.insert(k, start + duration)
        free.insert(k, free[k - 1])
    if times[first] != start:
        first, k = first + 1, k + 1
        times.insert(first, start)
        free.insert(first, free[first - 1])
    for held in range(first, k):
        free[held] -= need
    for edge in (k, first):  # where the same is free on both sides, there is one stretch to look through, not two
        if edge and free[edge - 1] == free[edge]:
            del times[edge], free[edge]
    return start


def order_by_rank(before: Sequence[Sequence[int]], after: Sequence[Sequence[int]], rank: Sequence[Any]) -> list[int]:
    """Each behind all that it goes on after, the lowest rank first among those that could be next."""
    waiting = [len(befores) for befores in before]
    eligible = [(rank[j], j) for j, count in enumerate(waiting) if not count]
    heapify(eligible)
    order = []
    while eligible:
        _, j = heappop(eligible)
        order.append(j)
        for k in after[j]:
            waiting[k] -= 1
            if not waiting[k]:
                heappush(eligible, (rank[k], k))
    return order


def place_in_parallel(project: Project, rank: Sequence[Any]) -> list[int]:
    """The finish of each, where at each moment whatever can start does, the lowest rank first: nobody waits idly."""
    waiting = [len(befores) for befores in project.before]
    ready = sorted((rank[j], j) for j, count in enumerate(waiting) if not count)
    running: list[tuple[int, int]] = []
    finish, free, now = [0] * len(project), project.free, 0
    while ready or running:
        held_back = []
        for entry in ready:
            j = entry[1]
            if (free - project.needs[j]) & project.guard == project.guard:
                free -= project.needs[j]
                finish[j] = now + project.durations[j]
                heappush(running, (finish[j], j))
            else:
                held_back.append(entry)
        ready, now = held_back, running[0][0]
        while running and running[0][0] == now:
            _, i = heappop(running)
            free += project.needs[i]
            for k in project.after[i]:
                waiting[k] -= 1
                if not waiting[k]:
                    ready.append((rank[k], k))
        ready.sort()
    return finish


class _Search:
    """The best schedule so far, and the parents of the next: pairs of length and list of activities, best first."""

    def __init__(self, project: Project):
        self.project = project
        self.random = Random(1963)
        self.left = min(max(PLACINGS // len(project), LEAST_SCHEDULES), MOST_SCHEDULES)
        self.rules = _ranks(project)
        self.parents: list[tuple[int, list[int]]] = []
        self.length: int | None = None
        self.total = 0  # of all finishes, in that schedule
        self.starts: list[int] = []

    @property
    def over(self) -> bool:
        return self.left <= 0 or self.length == self.project.least_length

    def by_rules(self) -> None:
        """Priority rules as they stand: forward, in parallel and backward. All of them, however short the first: among
        schedules of one length, things are done sooner in some than in others."""
        for rank in self.rules:
            for finish in (self._forward, self._parallel, self._backward):
                found = finish(rank)
                if finish != self._backward:  # in which something could start earlier by itself
                    self._keep(found)
                self._justify(found)

    def by_crossing(self) -> None:
        """Parents made by rules that chance blurs, and their children until those are no better."""
        self.parents = []
        for _ in range(PARENTS):
            if not self.over:
                self._justify(self._forward(self._blurred(self.random.choice(self.rules[:3]))))
        stale = 0
        while stale < STALE and not self.over:
            best = self.parents[0][0]
            self._justify(self._in_order(self._child(self._parent(), self._parent())))
            stale = 0 if self.parents[0][0] < best else stale + 1

    def _blurred(self, rank: Sequence[int]) -> list[float]:
        blur = max(rank) - min(rank)
        return [r + self.random.random() * blur for r in rank]

    def _in_order(self, order: Sequence[int]) -> list[int]:
        self.left -= 1
        return place_serially(self.project, order, self.project.before)

    def _forward(self, rank: Sequence[Any]) -> list[int]:
        return self._in_order(order_by_rank(self.project.before, self.project.after, rank))

    def _parallel(self, rank: Sequence[Any]) -> list[int]:
        self.left -= 1
        return place_in_parallel(self.project, rank)

    def _backward(self, rank: Sequence[Any]) -> list[int]:
        """Made from the end: the highest rank is placed first, as late as it can be."""
        self.left -= 1
        order = order_by_rank(self.project.after, self.project.before, [-r for r in rank])
        return self._turned_round(place_serially(self.project, order, self.project.after))

    def _turned_round(self, left: Sequence[int]) -> list[int]:
        """Finishes counted from the beginning, for times that were counted back from the end."""
        length = max(left)
        return [length - time + duration for time, duration in zip(left, self.project.durations, strict=True)]

    def _justify(self, finish: list[int]) -> None:
        """All to the right, all to the left, as long as that shortens; then keeps the list."""
        project = self.project
        while True:
            length = max(finish)
            order = sorted(range(len(project)), key=lambda j: (-finish[j], -j))
            late = self._turned_round(place_serially(project, order, project.after))
            order = self._by_start(late)
            finish = place_serially(project, order, project.before)
            self.left -= 2
            if max(finish) >= length or self.over:
                break
        self._keep(finish)

    def _by_start(self, finish: Sequence[int]) -> list[int]:
        durations = self.project.durations
        return sorted(range(len(finish)), key=lambda j: (finish[j] - durations[j], j))

    def _keep(self, finish: list[int]) -> None:
        entry = (max(finish), self._by_start(finish))
        total = sum(f * len(b) for f, b in zip(finish, self.project.before, strict=True))
        if self.length is None or (entry[0], total) < (self.length, self.total):
            self.length, self.total = entry[0], total
            self.starts = [f - d for f, d in zip(finish, self.project.durations, strict=True)]
        if entry not in self.parents:
            self.parents.insert(bisect_left(self.parents, entry[0], key=lambda parent: parent[0]), entry)
            del self.parents[PARENTS:]

    def _parent(self) -> list[int]:
        """The better of two, by chance."""
        count = len(self.parents)
        return self.parents[min(self.random.randrange(count), self.random.randrange(count))][1]

    def _child(self, mother: list[int], father: list[int]) -> list[int]:
        """The mother's list with a stretch in the father's order, and here and there two neighbours swapped."""
        a, b = sorted(self.random.randrange(len(mother) + 1) for _ in "ab")
        head = mother[:a]
        seen = set(head)
        middle = [j for j in father if j not in seen][: b - a]
        seen.update(middle)
        child = head + middle + [j for j in mother if j not in seen]
        for k in range(1, len(child)):
            if self.random.random() < SWAPPED and child[k - 1] not in self.project.before[child[k]]:
                child[k - 1], child[k] = child[k], child[k - 1]
        return child


def _ranks(project: Project) -> list[list[int]]:
    """Priority rules (Kolisch, European Journal of Operational Research 90, 1996): latest finish, latest start, least
    slack, most work behind, most that follows, the largest share of what is scarce, what
    is joined of least."""
    heads, tails, durations = project.heads, project.tails, project.durations
    behind = [0] * len(project)  # all that follows, as bits
    for j in reversed(range(len(project))):
        for k in project.after[j]:
            behind[j] |= behind[k] | (1 << k)
    latest_start = [-tail for tail in tails]
    work = [
        sum(
            duration * units * 1000 // capacity
            for units, capacity in zip(needs, project.capacities, strict=True)
            if units
        )
        for duration, needs in zip(durations, project.units, strict=True)
    ]
    following = [d + sum(durations[k] for k in project.after[j]) for j, d in enumerate(durations)]
    return [
        [duration - tail for duration, tail in zip(durations, tails, strict=True)],
        latest_start,
        [-tail - head for head, tail in zip(heads, tails, strict=True)],
        [-mask.bit_count() for mask in behind],
        [-time for time in following],
        [-share for share in work],
        _joined_soonest(project),
    ]


def _joined_soonest(project: Project) -> list[int]:
    """For each, all the time that lies before the next join that it leads to: what is joined of little is joined
    first, and not everything at the end."""
    before = [0] * len(project)  # all that it goes on after and itself, as bits
    for j, befores in enumerate(project.before):
        before[j] = 1 << j
        for i in befores:
            before[j] |= before[i]
    times = list(project.durations)
    for j, befores in enumerate(project.before):
        if len(befores) > 1 or not project.after[j]:
            times[j] = sum(duration for i, duration in enumerate(project.durations) if before[j] >> i & 1)
    rank = list(times)
    for j in reversed(range(len(project))):
        joins = [times[k] if len(project.before[k]) > 1 else rank[k] for k in project.after[j]]
        rank[j] = min(joins, default=times[j])
    return rank
