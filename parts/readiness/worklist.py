"""What to do next across a locomotive, one page at a time: the counts say which places come first, so that only the
rows of that page are read.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from functools import cached_property, reduce
from operator import or_

from django.db.models import Case, IntegerField, Q, Value, When

from ..domain.needs import Word
from ..domain.ranking import REFIT, WORK, turn
from ..domain.readiness import Blocker, Readiness, blockers_at, goes_on_at, what_next
from ..domain.sequence import ON, WHOLE
from ..models import Position
from ..queries.loading import load_places
from ..queries.standing_now import Now

PAGE = 40

Group = tuple[int, bool, str]
"""A subassembly, whether its places are needed first, and what they need, or "refit" where they can go on."""


@dataclass
class Bucket:
    """Everything that holds up as much and needs the same: told one by one, or only counted so far."""

    told: list[Blocker] = field(default_factory=list)
    counted: int = 0
    groups: list[Group] = field(default_factory=list)  # ordinary places that are counted here
    late: list[int] = field(default_factory=list)  # counted places with an order of their own

    def __len__(self) -> int:
        return len(self.told) + self.counted


class WorkList:
    """A sequence of blockers that a paginator can cut: it knows its length, and reads the rows of a slice only.

    In a bucket those that are told come first, then the counted ones in the order of their names.
    """

    def __init__(self, now: Now, needs: Collection[str] = WORK, found: Readiness | None = None):
        self.now, self.needs = now, frozenset(needs)
        self.found = found or now.readiness()
        self.totals: Counter[str] = Counter()  # of each need, whatever is chosen
        self.buckets = dict(sorted(self._buckets().items()))

    def __len__(self) -> int:
        return sum(map(len, self.buckets.values()))

    def __getitem__(self, wanted: slice) -> list[Blocker]:
        start, stop = wanted.start or 0, len(self) if wanted.stop is None else wanted.stop
        cuts = list(self._cuts(start, stop))
        rows = self._rows([(bucket, skip, take) for bucket, _, skip, take in cuts if take])
        return [blocker for bucket, told, *_ in cuts for blocker in (*told, *rows.get(id(bucket), ()))]

    def _cuts(self, start: int, stop: int) -> Iterator[tuple[Bucket, list[Blocker], int, int]]:
        """Of each bucket what lies between start and stop: the told ones, and how many counted to skip and to take."""
        begin = 0
        for bucket in self.buckets.values():
            low, high = max(start - begin, 0), min(stop - begin, len(bucket))
            if low < high:
                told = len(bucket.told)
                skip = max(low - told, 0)
                yield bucket, bucket.told[low:high], skip, max(high - told, 0) - skip
            begin += len(bucket)

    def _rows(self, cuts: list[tuple[Bucket, int, int]]) -> dict[int, list[Blocker]]:
        """What blocks the counted places of these buckets, each bucket's in order. Buckets after the first are taken
        from their beginning, so one query with one offset finds them all."""
        if not cuts:
            return {}
        skip, take = cuts[0][1], sum(take for *_, take in cuts)
        late = [pk for bucket, *_ in cuts for pk in bucket.late]
        ordinary = reduce(or_, (_which(bucket) for bucket, *_ in cuts)) & ~Q(pk__in=[*self.now.late, *self.now.moved])
        found = (
            Position.objects.waiting_or_ready()
            .filter(ordinary | Q(pk__in=late), retired=False)
            .annotate(turn=Case(*_turns(cuts), output_field=IntegerField()))
            .order_by("turn", "name", "axle", "end", "side", "id")
        )
        chosen = list(found.values_list("pk", "turn")[skip : skip + take])
        places = load_places({"id__in": [pk for pk, _ in chosen]})
        told = blockers_at(self.found, places) | goes_on_at(self.found, places)
        rows: dict[int, list[Blocker]] = {}
        for pk, cut in chosen:
            if pk in told:  # somebody may have dealt with it a moment ago
                rows.setdefault(id(cuts[cut][0]), []).append(told[pk])
        return rows

    def _buckets(self) -> dict[tuple[bool, int, int], Bucket]:
        """By whose turn comes first."""
        buckets: defaultdict[tuple[bool, int, int], Bucket] = defaultdict(Bucket)
        incomplete = self.found.incomplete()
        for blocker in (*what_next(self.found), *self._told_ready()):
            self.totals[blocker.need] += 1
            if blocker.need in self.needs:
                buckets[turn(blocker.need, blocker.holds_up, stopped=blocker.stopped)].told.append(blocker)
        for (subassembly, first, need), number in self._ordinary().items():
            self.totals[need] += number
            if need in self.needs and number:
                held = self.found.order.holds_up((ON if first else WHOLE, subassembly), incomplete)
                bucket = buckets[turn(need, held)]
                bucket.counted += number
                bucket.groups.append((subassembly, first, need))
        for position, need in self._late():
            self.totals[need] += 1
            if need in self.needs:
                node = self.found.order.node(position.pk, position.subassembly_id, position.needed_first)
                bucket = buckets[turn(need, self.found.order.holds_up(node, incomplete))]
                bucket.counted += 1
                bucket.late.append(position.pk)
        return buckets

    @cached_property
    def clear(self) -> frozenset[int]:
        """The subassemblies that can be put together today."""
        return frozenset(sub.sub.id for sub in self.found.subassemblies if sub.clear_to_assemble)

    def _told_ready(self) -> Iterator[Blocker]:
        """Of what the calendar moved, what is ready and can go on."""
        places = [place for place in self.now.apart if place.subassembly in self.clear and not place.own_order]
        yield from goes_on_at(self.found, places).values()

    def _ordinary(self) -> Counter[Group]:
        """Places that are only counted and have something against them, or can go on, by what decides their turn."""
        ordinary: Counter[Group] = Counter()
        for count in self.now.ordinary():
            if count.need and count.word in (Word.BLOCKED, Word.REFITTED):
                ordinary[count.subassembly, count.needed_first, count.need] += count.number
            elif count.word == Word.READY and count.subassembly in self.clear:
                ordinary[count.subassembly, count.needed_first, REFIT] += count.number
        return ordinary

    def _late(self) -> Iterator[tuple[Position, str]]:
        """Those with an order of their own that have something against them or can go on, unless the calendar moved
        them."""
        for pk, position in self.now.late.items():
            if pk in self.now.moved:
                continue
            if position.need and position.standing in (Word.BLOCKED, Word.REFITTED):
                yield position, position.need
            elif position.standing == Word.READY and self._turn_has_come(position):
                yield position, REFIT

    def _turn_has_come(self, position: Position) -> bool:
        """A late place goes on once its subassembly is under way and all that it goes on after itself is refitted."""
        late = self.found.order.late_by_id.get(position.pk)
        done = {sub.sub.id for sub in self.found.subassemblies if sub.branch.refitted == sub.branch.required}
        return position.subassembly_id in self.clear and (late is None or set(late.after) <= done)


def _turns(cuts) -> list[When]:
    """Which bucket a place is in. Late ones are asked for first: they look like ordinary ones otherwise."""
    late = [When(pk__in=bucket.late, then=Value(turn)) for turn, (bucket, *_) in enumerate(cuts) if bucket.late]
    return late + [When(_which(bucket), then=Value(turn)) for turn, (bucket, *_) in enumerate(cuts) if bucket.groups]


def _which(bucket: Bucket) -> Q:
    """The ordinary places of a bucket."""
    groups = (Q(subassembly=sub, needed_first=first) & _in_need(need) for sub, first, need in bucket.groups)
    return reduce(or_, groups, Q(pk__in=()))


def _in_need(need: str) -> Q:
    return Q(standing=Word.READY) if need == REFIT else Q(need=need) & ~Q(standing=Word.READY)
