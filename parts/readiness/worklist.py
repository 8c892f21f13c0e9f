"""What to do next across a locomotive, one page at a time: the counts say which places come first, so that only the
rows of that page are read.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, field
from functools import reduce
from itertools import chain
from operator import attrgetter, or_
from typing import Any

from django.db.models import QuerySet

from core.models.prepared import Scope, prepared

from ..domain.needs import PlaceStatus
from ..domain.plain import several
from ..domain.ranking import REFIT, WORK, turn
from ..domain.readiness import Blocker, Readiness, blockers_at, goes_on_at, missing_wholes
from ..domain.sequence import ON, WHOLE, Node
from ..domain.tallies import WAITING
from ..domain.words import Need
from ..models import Position, Tag
from ..queries.loading import load_places
from ..queries.readiness import Now

PAGE = 28

READY, SOURCE = PlaceStatus.READY.value, Need.SOURCE.value


@dataclass
class Bucket:
    """Everything that needs the same and holds up as much."""

    need: str  # a words.Need, or "refit" for what can go on
    holds_up: int
    told: list[Blocker] = field(default_factory=list)  # what stands against a subassembly
    counted: int = 0  # places
    groups: dict[bool, list[int]] = field(default_factory=lambda: {True: [], False: []})
    """The subassemblies whose ordinary places are counted here: those of their places that are needed first, and those
    that are not."""
    singles: list[int] = field(default_factory=list)  # places counted here that are counted one by one

    def __len__(self) -> int:
        return len(self.told) + self.counted


Key = tuple[bool, int]
"""Sorts what is stopped before what is not, and what holds up more before what holds up less."""
Chosen = list[tuple[Position, Bucket]]
"""Places of a page, in its order, and where each is counted."""


class WorkList:
    """A sequence of blockers that a paginator can cut: it knows its length, and reads the rows of a slice only.

    `beside` are things to do that no place needs.
    In a bucket those that are told come first, then the counted ones in the order of their names.
    """

    def __init__(
        self,
        now: Now,
        needs: Collection[str] = WORK,
        found: Readiness | None = None,
        beside: Iterable[Blocker] = (),
    ):
        self.now, self.needs = now, frozenset(needs)
        self.found = found or now.readiness()
        self.beside = list(beside)
        self.incomplete = self.found.incomplete()
        self.clear = frozenset(sub.sub.id for sub in self.found.subassemblies if sub.own_clear)
        self.totals: Counter[str] = Counter()  # of each need, whatever is chosen
        wholes = missing_wholes(self.found)
        self.missing = [_as_one(self.found, top, parts) for top, parts in wholes.items()]
        self.lacking = frozenset(chain.from_iterable(wholes.values()))
        self.told: defaultdict[Key, list[Blocker]] = defaultdict(list)  # against a subassembly
        self.parts: defaultdict[Key, list[tuple[int, bool]]] = defaultdict(list)  # those needed first in it, or not
        self.singles: defaultdict[Key, list[tuple[int, str]]] = defaultdict(list)  # with what each needs
        self._count()

    def __len__(self) -> int:
        return sum(self.totals[need] for need in self.needs)

    def __getitem__(self, wanted: slice) -> list[Blocker]:
        """Those of a slice in whole."""
        return self._slice(wanted, self._in_whole)

    def brief(self, wanted: slice) -> list[Blocker]:
        """Those of a slice without their sentences, for which whole rows would have to be read."""
        return self._slice(wanted, self._in_brief)

    def _slice(self, wanted: slice, tell: Callable[[Chosen], dict[int, Blocker]]) -> list[Blocker]:
        start, stop = wanted.start or 0, len(self) if wanted.stop is None else wanted.stop
        cuts = list(self._cuts(start, stop))
        chosen = self._chosen([(bucket, skip, take) for bucket, _, skip, take in cuts if take])
        places = tell(chosen) if chosen else {}
        rows = defaultdict(list)
        for position, bucket in chosen:
            if position.pk in places:  # somebody may have dealt with it a moment ago
                rows[id(bucket)].append(places[position.pk])
        return [blocker for bucket, told, *_ in cuts for blocker in (*told, *rows[id(bucket)])]

    def _cuts(self, start: int, stop: int) -> Iterator[tuple[Bucket, list[Blocker], int, int]]:
        """Of each bucket what lies between start and stop: the told ones, and how many counted to skip and to take."""
        begin = 0
        for bucket in self._buckets():
            if begin >= stop:
                return
            low, high = max(start - begin, 0), min(stop - begin, len(bucket))
            if low < high:
                told = len(bucket.told)
                skip = max(low - told, 0)
                yield bucket, bucket.told[low:high], skip, max(high - told, 0) - skip
            begin += len(bucket)

    def _chosen(self, cuts: list[tuple[Bucket, int, int]]) -> Chosen:
        """The counted places of these buckets, each bucket's in order. Buckets after the first are taken from their
        beginning, so one query with one offset finds them all."""
        if not cuts:
            return []
        turns = [f"WHEN {_which(bucket, self.now.singles)} THEN {turn}" for turn, (bucket, *_) in enumerate(cuts)]
        subs = {sub for bucket, *_ in cuts for sub in self._subassemblies(bucket)}
        asked = CHOSEN.format(turns=" ".join(turns), subassemblies=_listed(subs))
        found = Position.objects.raw(f"{asked} LIMIT {sum(take for *_, take in cuts)} OFFSET {cuts[0][1]}")
        return [(position, cuts[position.turn][0]) for position in found]

    def _subassemblies(self, bucket: Bucket) -> Iterator[int]:
        """Where its places are: the database need look nowhere else."""
        yield from chain.from_iterable(bucket.groups.values())
        yield from (self.now.singles[pk].subassembly_id for pk in bucket.singles)

    def _in_whole(self, chosen: Chosen) -> dict[int, Blocker]:
        places = load_places({"id__in": [position.pk for position, _ in chosen]})
        return blockers_at(self.found, places) | goes_on_at(self.found, places)

    def _in_brief(self, chosen: Chosen) -> dict[int, Blocker]:
        tags: defaultdict[int, list[str]] = defaultdict(list)
        for place, code in _tags({"component__place__in": [position.pk for position, _ in chosen]}):
            tags[place].append(code)
        return {
            position.pk: Blocker(
                subassembly=position.subassembly_id,
                need=bucket.need,
                reasons=(),
                holds_up=bucket.holds_up,
                place=position.pk,
                position=position.name,
                words=position.words,
                tag=tags[position.pk][0] if len(tags[position.pk]) == 1 else "",  # of several, its page says which one
            )
            for position, bucket in chosen
        }

    def _buckets(self) -> Iterator[Bucket]:
        """By whose turn comes first. Made when they are asked for: a page shows those of the first few."""
        for key in sorted({*self.told, *self.singles, *self.parts}):
            buckets: dict[str, Bucket] = {}

            def bucket(need: str, found: dict[str, Bucket] = buckets, held: int = -key[1]) -> Bucket:
                return found.setdefault(need, Bucket(need, held))

            for blocker in sorted(self.told.get(key, ()), key=attrgetter("turn")):
                bucket(blocker.need).told.append(blocker)
            for subassembly, first in self.parts.get(key, ()):
                for count in self.now.ordinary[subassembly].counts:
                    need = self._asked(subassembly, count.status, count.need)
                    if need in self.needs and count.needed_first == first:
                        one = bucket(need)
                        one.counted += count.number
                        one.groups[first].append(subassembly)
            for pk, need in self.singles.get(key, ()):
                one = bucket(need)
                one.counted += 1
                one.singles.append(pk)
            yield from sorted(buckets.values(), key=lambda each: turn(each.need, each.holds_up))

    def _count(self) -> None:
        """How much there is of each need, and what holds up how much."""
        against = chain.from_iterable(sub.blockers for sub in self.found.subassemblies)
        for blocker in (*against, *self.beside, *self.missing):
            if not blocker.inherited:
                self.totals[blocker.need] += 1
                if blocker.need in self.needs:
                    self.told[not blocker.stopped, -blocker.holds_up].append(blocker)
        behind, parts, incomplete = self.found.order.behind, self.parts, self.incomplete
        totals: defaultdict[str, int] = defaultdict(int)  # to add to a Counter takes twice as long
        for subassembly, places in self.now.ordinary.items():
            for first, moment in (True, ON), (False, WHOLE):
                parts[True, -(behind[moment, subassembly] & incomplete).bit_count()].append((subassembly, first))
            for need, number in places.needs.items():
                totals[need] += number
            if subassembly in self.lacking:
                totals[SOURCE] -= places.needs[SOURCE]
            if subassembly in self.clear:
                totals[REFIT] += places.tally.ready
        self.totals.update(totals)
        for pk, need in self._singles():
            self.totals[need] += 1
            if need in self.needs:
                position = self.now.singles[pk]
                node = self.found.order.node(pk, position.subassembly_id, position.needed_first)
                stopped = need == Need.RELEASE and pk in self.now.stopped
                self.singles[not stopped, -self._held(node)].append((pk, need))

    def _asked(self, subassembly: int, status: str, need: str | None) -> str:
        """What somebody can set to at a place that stands so: its need, or that it can go on."""
        if need and status in WAITING:
            return "" if need == SOURCE and subassembly in self.lacking else need
        return REFIT if status == READY and subassembly in self.clear else ""

    def _held(self, node: Node) -> int:
        return self.found.order.holds_up(node, self.incomplete)

    def _singles(self) -> Iterator[tuple[int, str]]:
        """Those counted one by one that somebody can set to today."""
        done = {sub.sub.id for sub in self.found.subassemblies if sub.branch.refitted == sub.branch.required}
        for pk, position in self.now.singles.items():
            need = self._asked(position.subassembly_id, *position.stands_on(self.now.today))
            placed = self.found.order.ordered_by_id.get(pk)
            if need and not (need == REFIT and placed and not done.issuperset(placed.after)):
                yield pk, need


@prepared
def _tags(scope: Scope) -> QuerySet[Any]:
    found = Tag.objects.filter(current=True, **scope).exclude(component__state="withdrawn")
    return found.order_by("component_id").values_list("component__place", "code")


def _as_one(found: Readiness, top: int, parts: list[int]) -> Blocker:
    """One row for the whole; its page opens the places."""
    subs = [sub for sub in found.subassemblies if sub.sub.id in parts]
    number = sum(sub.needs[Need.SOURCE] for sub in subs)
    behind = reduce(or_, (sub.behind for sub in subs))
    return Blocker(
        subassembly=top,
        need=Need.SOURCE,
        reasons=("No piece of the whole is here.",),
        holds_up=behind.bit_count(),
        behind=behind,
        words=f"All of {found.order.by_id[top].name}: {several(number, 'place')}",
    )


CAN_GO = "standing = 'ready'"
CHOSEN = """SELECT * FROM (
SELECT id, subassembly_id, name, side, axle, "end", inside, CASE {turns} END AS turn FROM parts_position
WHERE subassembly_id IN ({subassemblies}) AND NOT retired AND NOT struck
) AS place WHERE turn IS NOT NULL ORDER BY turn, name, axle, "end", side, id"""
"""By hand: Django would spend five times as long on the question as the database on the answer."""


def _which(bucket: Bucket, singles: Iterable[int]) -> str:
    """The places that are counted in a bucket; numbers and needs of ours alone, and nothing that anybody typed."""
    needed = f"need = '{Need(bucket.need)}' AND standing IN ('blocked', 'refitted')" if bucket.need != REFIT else CAN_GO
    return (
        f"id IN ({_listed(bucket.singles)}) OR {needed} AND id NOT IN ({_listed(singles)}) AND "
        f"CASE WHEN needed_first THEN subassembly_id IN ({_listed(bucket.groups[True])}) "
        f"ELSE subassembly_id IN ({_listed(bucket.groups[False])}) END"
    )


def _listed(numbers: Iterable[int]) -> str:
    """A nought, which no row has, and these."""
    return ", ".join(map(str, (0, *numbers)))
