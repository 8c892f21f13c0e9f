"""What to do next across a locomotive, one page at a time: the counts say which places come first, so that only the
rows of that page are read.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from functools import reduce
from operator import or_

from django.db.models import Case, IntegerField, Q, Value, When

from workshop.roles import may

from .domain.needs import RANK, Word
from .domain.readiness import Blocker, what_next
from .domain.sequence import ON, WHOLE
from .domain.words import Need
from .loading import load_places
from .models import Position
from .standing_now import Now

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


@dataclass
class Bucket:
    """Everything that holds up as much and needs the same: told one by one, or only counted so far."""

    told: list[Blocker] = field(default_factory=list)
    counted: int = 0
    groups: list[Q] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.told) + self.counted


class WorkList:
    """A sequence of blockers that a paginator can cut: it knows its length, and reads the rows of a slice only.

    In a bucket those that are told come first, then the counted ones in the order of their names.
    """

    def __init__(self, now: Now, needs: Collection[Need] = WORK):
        self.now, self.needs = now, frozenset(needs)
        settled = [pk for pk in now.late if pk not in now.moved]
        self.found = now.readiness(listed=load_places({"id__in": settled}) if settled else ())
        order = self.found.order
        self.incomplete = order.incomplete(sub.sub.id for sub in self.found.subassemblies if not sub.complete)
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
        turns = [When(reduce(or_, bucket.groups), then=Value(turn)) for turn, (bucket, *_) in enumerate(cuts)]
        found = (
            Position.objects.waiting()
            .filter(reduce(or_, (group for bucket, *_ in cuts for group in bucket.groups)), retired=False)
            .exclude(pk__in=[*self.now.late, *self.now.moved])
            .annotate(turn=Case(*turns, output_field=IntegerField()))
            .order_by("turn", "name", "axle", "end", "side", "id")
        )
        chosen = list(found.values_list("pk", "turn")[skip : skip + take])
        told = self.now.readiness(listed=load_places({"id__in": [pk for pk, _ in chosen]}))
        by_place = {blocker.place: blocker for sub in told.subassemblies for blocker in sub.blockers}
        rows: dict[int, list[Blocker]] = {}
        for pk, turn in chosen:
            if pk in by_place:  # somebody may have dealt with it a moment ago
                rows.setdefault(id(cuts[turn][0]), []).append(by_place[pk])
        return rows

    def _buckets(self) -> dict[tuple[int, int], Bucket]:
        """By what holds up most, then by the need that leads in the table."""
        buckets: defaultdict[tuple[int, int], Bucket] = defaultdict(Bucket)
        for blocker in what_next(self.found):
            self.totals[blocker.need] += 1
            if blocker.need in self.needs:
                buckets[-blocker.holds_up, RANK[blocker.need]].told.append(blocker)
        for (subassembly, first, need), number in self._ordinary().items():
            self.totals[need] += number
            if need in self.needs and number:
                held = self.found.order.holds_up((ON if first else WHOLE, subassembly), self.incomplete)
                bucket = buckets[-held, RANK[need]]
                bucket.counted += number
                bucket.groups.append(Q(subassembly=subassembly, needed_first=first, need=need.value))
        return buckets

    def _ordinary(self) -> Counter[tuple[int, bool, Need]]:
        """Places with something against them that are only counted, by what decides their turn."""
        ordinary = Counter()
        for count in self.now.ordinary():
            if count.need and count.word in (Word.BLOCKED, Word.REFITTED):
                ordinary[count.subassembly, count.needed_first, Need(count.need)] += count.number
        return ordinary


def needs_for(role: str) -> list[Need]:
    """The needs that somebody with this role can answer."""
    return [need for need in Need if need in DEEDS and may([role], DEEDS[need])]
