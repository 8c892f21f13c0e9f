"""What to do next across a locomotive, one page at a time: the counts say which places come first, so that only the
rows of that page are read.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from functools import reduce
from operator import or_

from django.db.models import Case, IntegerField, Q, Value, When

from core.domain.catalogue import may

from ..domain.needs import RANK, Word
from ..domain.readiness import Blocker, blockers_at, what_next
from ..domain.sequence import ON, WHOLE
from ..domain.words import Need
from ..models import Position
from ..queries.loading import load_places
from ..queries.standing_now import Now

PAGE = 50

DEEDS = {
    Need.FIND: "move",
    Need.FETCH: "move",
    Need.RELEASE: "hold",
    Need.DECIDE: "decide",
    Need.REPAIR: "finish repair",
    Need.RECHECK: "examine",
    Need.STRIP: "strip",
    Need.SOURCE: "start on",
    Need.AWAIT: "start on",
    Need.CLEAN: "clean",
    Need.CRACK_CHECK: "examine",
    Need.EXAMINE: "examine",
    Need.MEASURE: "examine",
    Need.SIGN: "accept",
    Need.FIT: "decide",
}
"""The deed that answers a need. `after` has none: it is answered by what has to come first."""

WORK = frozenset(DEEDS)
"""What somebody can set to; waiting for another subassembly is no work."""


Group = tuple[int, bool, Need]
"""A subassembly, whether its places are needed first, and what they need."""


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

    def __init__(self, now: Now, needs: Collection[Need] = WORK):
        self.now, self.needs = now, frozenset(needs)
        self.found = now.readiness()
        self.totals = dict.fromkeys(Need, 0)  # of each need, whatever is chosen
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
            Position.objects.waiting()
            .filter(ordinary | Q(pk__in=late), retired=False)
            .annotate(turn=Case(*_turns(cuts), output_field=IntegerField()))
            .order_by("turn", "name", "axle", "end", "side", "id")
        )
        chosen = list(found.values_list("pk", "turn")[skip : skip + take])
        told = blockers_at(self.found, load_places({"id__in": [pk for pk, _ in chosen]}))
        rows: dict[int, list[Blocker]] = {}
        for pk, turn in chosen:
            if pk in told:  # somebody may have dealt with it a moment ago
                rows.setdefault(id(cuts[turn][0]), []).append(told[pk])
        return rows

    def _buckets(self) -> dict[tuple[int, int], Bucket]:
        """By what holds up most, then by the need that leads in the table."""
        buckets: defaultdict[tuple[int, int], Bucket] = defaultdict(Bucket)
        incomplete = self.found.incomplete()
        for blocker in what_next(self.found):
            self.totals[blocker.need] += 1
            if blocker.need in self.needs:
                buckets[-blocker.holds_up, RANK[blocker.need]].told.append(blocker)
        for (subassembly, first, need), number in self._ordinary().items():
            self.totals[need] += number
            if need in self.needs and number:
                held = self.found.order.holds_up((ON if first else WHOLE, subassembly), incomplete)
                bucket = buckets[-held, RANK[need]]
                bucket.counted += number
                bucket.groups.append((subassembly, first, need))
        for position in self._late():
            need = Need(position.need)
            self.totals[need] += 1
            if need in self.needs:
                node = self.found.order.node(position.pk, position.subassembly_id, position.needed_first)
                bucket = buckets[-self.found.order.holds_up(node, incomplete), RANK[need]]
                bucket.counted += 1
                bucket.late.append(position.pk)
        return buckets

    def _ordinary(self) -> Counter[Group]:
        """Places with something against them that are only counted, by what decides their turn."""
        ordinary: Counter[tuple[int, bool, Need]] = Counter()
        for count in self.now.ordinary():
            if count.need and count.word in (Word.BLOCKED, Word.REFITTED):
                ordinary[count.subassembly, count.needed_first, Need(count.need)] += count.number
        return ordinary

    def _late(self) -> list[Position]:
        """Those with an order of their own that have something against them, unless the calendar moved them."""
        late = (position for pk, position in self.now.late.items() if pk not in self.now.moved)
        return [position for position in late if position.need and position.standing in (Word.BLOCKED, Word.REFITTED)]


def _turns(cuts) -> list[When]:
    """Which bucket a place is in. Late ones are asked for first: they look like ordinary ones otherwise."""
    late = [When(pk__in=bucket.late, then=Value(turn)) for turn, (bucket, *_) in enumerate(cuts) if bucket.late]
    return late + [When(_which(bucket), then=Value(turn)) for turn, (bucket, *_) in enumerate(cuts) if bucket.groups]


def _which(bucket: Bucket) -> Q:
    """The ordinary places of a bucket."""
    groups = (Q(subassembly=sub, needed_first=first, need=need.value) for sub, first, need in bucket.groups)
    return reduce(or_, groups, Q(pk__in=()))


def needs_for(role: str) -> list[Need]:
    """The needs that somebody with this role can answer."""
    return [need for need in Need if need in DEEDS and may([role], DEEDS[need])]
