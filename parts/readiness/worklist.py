"""What to do next across a locomotive, one page at a time: the counts say which places come first, so that only the
rows of that page are read.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from functools import reduce
from itertools import chain
from operator import or_

from django.db.models import Case, IntegerField, Q, Value, When

from ..domain.needs import PlaceStatus
from ..domain.plain import several
from ..domain.ranking import REFIT, WORK, turn
from ..domain.readiness import Blocker, Readiness, blockers_at, goes_on_at, missing_wholes, what_next
from ..domain.sequence import ON, WHOLE, Node
from ..domain.words import Need
from ..models import Position, Tag
from ..queries.loading import load_places
from ..queries.readiness import Now

PAGE = 32

WAITING = (PlaceStatus.BLOCKED.value, PlaceStatus.REFITTED.value)
"""What stands so and needs something is in the way."""
READY, SOURCE = PlaceStatus.READY.value, Need.SOURCE.value
WORDS = ("name", "side", "axle", "end", "inside")
"""What the words of a place are made of."""


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


Chosen = list[tuple[Position, Bucket]]
"""Places of a page, in its order, and where each is counted."""


class WorkList:
    """A sequence of blockers that a paginator can cut: it knows its length, and reads the rows of a slice only.

    In a bucket those that are told come first, then the counted ones in the order of their names.
    """

    def __init__(self, now: Now, needs: Collection[str] = WORK, found: Readiness | None = None):
        self.now, self.needs = now, frozenset(needs)
        self.found = found or now.readiness()
        self.incomplete = self.found.incomplete()
        self.clear = frozenset(sub.sub.id for sub in self.found.subassemblies if sub.own_clear)
        self.totals: Counter[str] = Counter()  # of each need, whatever is chosen
        wholes = missing_wholes(self.found)
        self.missing = [_as_one(self.found, top, parts) for top, parts in wholes.items()]
        self.lacking = frozenset(chain.from_iterable(wholes.values()))
        self.buckets = self._buckets()

    def __len__(self) -> int:
        return sum(map(len, self.buckets))

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
        for bucket in self.buckets:
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
        skip, take = cuts[0][1], sum(take for *_, take in cuts)
        asked = [_which(bucket, self.now.singles) for bucket, *_ in cuts]
        turns = [When(which, then=Value(turn)) for turn, which in enumerate(asked)]
        subs = {sub for bucket, *_ in cuts for sub in self._subassemblies(bucket)}
        found = (
            Position.objects.filter(reduce(or_, asked), subassembly__in=sorted(subs), retired=False)
            .annotate(turn=Case(*turns, output_field=IntegerField()))
            .order_by("turn", "name", "axle", "end", "side", "id")
            .only("subassembly", *WORDS)
        )
        return [(position, cuts[position.turn][0]) for position in found[skip : skip + take]]

    def _subassemblies(self, bucket: Bucket) -> Iterator[int]:
        """Where its places are: the database need look nowhere else."""
        yield from chain.from_iterable(bucket.groups.values())
        yield from (self.now.singles[pk].subassembly_id for pk in bucket.singles)

    def _in_whole(self, chosen: Chosen) -> dict[int, Blocker]:
        places = load_places({"id__in": [position.pk for position, _ in chosen]})
        return blockers_at(self.found, places) | goes_on_at(self.found, places)

    def _in_brief(self, chosen: Chosen) -> dict[int, Blocker]:
        tags = Tag.objects.of_pieces_in([position.pk for position, _ in chosen])
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

    def _buckets(self) -> list[Bucket]:
        """By whose turn comes first."""
        found: dict[tuple[int, ...], Bucket] = {}
        ordinary: dict[tuple[str, int], Bucket] = {}

        def bucket(need: str, held: int, *, stopped: bool = False) -> Bucket:
            key = turn(need, held, stopped=stopped)
            if key not in found:
                found[key] = Bucket(need, held)
            return found[key]

        for blocker in what_next(self.found):
            self.totals[blocker.need] += 1
            if blocker.need in self.needs:
                bucket(blocker.need, blocker.holds_up, stopped=blocker.stopped).told.append(blocker)
        for blocker in self.missing:
            self.totals[Need.SOURCE] += 1
            if Need.SOURCE in self.needs:
                bucket(Need.SOURCE, blocker.holds_up).told.append(blocker)
        held: dict[tuple[int, bool], int] = {}
        totals: dict[str, int] = {}
        clear, lacking, needs = self.clear, self.lacking, self.needs
        for subassembly, status, need, first, number in self.now.ordinary():  # thousands of them
            if status == READY:
                need = REFIT if subassembly in clear else ""
            elif status not in WAITING:
                continue
            if not need or (need == SOURCE and subassembly in lacking):
                continue
            totals[need] = totals.get(need, 0) + number
            if need in needs:
                part = subassembly, first
                if part not in held:
                    held[part] = self._held((ON if first else WHOLE, subassembly))
                key = need, held[part]
                one = ordinary.get(key)
                if one is None:
                    one = ordinary[key] = bucket(*key)
                one.counted += number
                one.groups[first].append(subassembly)
        self.totals.update(totals)
        for pk, need in self._singles():
            self.totals[need] += 1
            if need in self.needs:
                position = self.now.singles[pk]
                node = self.found.order.node(pk, position.subassembly_id, position.needed_first)
                one = bucket(need, self._held(node), stopped=need == Need.RELEASE and pk in self.now.stopped)
                one.counted += 1
                one.singles.append(pk)
        return [found[key] for key in sorted(found)]

    def _asked(self, subassembly: int, status: str, need: str | None) -> str:
        """What somebody can set to at a place that stands so: its need, or that it can go on."""
        if need and status in WAITING:
            return need
        return REFIT if status == READY and subassembly in self.clear else ""

    def _held(self, node: Node) -> int:
        return self.found.order.holds_up(node, self.incomplete)

    def _singles(self) -> Iterator[tuple[int, str]]:
        """Those counted one by one that somebody can set to today."""
        done = {sub.sub.id for sub in self.found.subassemblies if sub.branch.refitted == sub.branch.required}
        for pk, position in self.now.singles.items():
            need = self._asked(position.subassembly_id, *position.stands_on(self.now.today))
            if need == Need.SOURCE and position.subassembly_id in self.lacking:
                continue
            placed = self.found.order.ordered_by_id.get(pk)
            if need and not (need == REFIT and placed and not done.issuperset(placed.after)):
                yield pk, need


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


def _which(bucket: Bucket, singles: Collection[int]) -> Q:
    """The places that are counted in a bucket."""
    groups = [Q(subassembly__in=subs, needed_first=first) for first, subs in bucket.groups.items() if subs]
    waiting = Q(standing=READY) if bucket.need == REFIT else Q(need=bucket.need, standing__in=WAITING)
    ordinary = waiting & reduce(or_, groups) & ~Q(pk__in=list(singles)) if groups else Q(pk__in=())
    return ordinary | Q(pk__in=bucket.singles)
