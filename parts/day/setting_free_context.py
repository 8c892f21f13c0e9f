"""What unblocks the most, as its page shows it: by the sort of day on which the work is done."""

from collections.abc import Iterable
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from django.core.cache import cache

from core.models import Event

from ..domain.leeway import leeway
from ..domain.plain import several
from ..domain.ranking import REFIT
from ..domain.setting_free import DAYS, Heap, SetFree, heaps, what_if
from ..domain.words import Need
from ..forecast.loading import OpenWork
from ..models import Locomotive
from ..queries.readiness import Now

SHOWN = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class HeapRow:
    """A heap in words, and what its tick box sends."""

    value: str
    words: str
    sets_free: str
    waits: str
    ticked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SortOfDay:
    heading: str
    pieces: int
    clears: int
    rows: list[HeapRow]
    more: list[HeapRow]
    ticked: bool


class SettingFree:
    """The heaps of one locomotive in their one order, and what if some were done."""

    def __init__(self, now: Now, days_left: dict[str, int] | None = None):
        self.now, self.found = now, now.readiness()
        self.counts, self.singles = now.counts(), now.single_rows()
        self.heaps = heaps(self.found, self.counts, self.singles, days_left)

    def chosen(self, asked: Iterable[str]) -> list[Heap]:
        wanted = set(asked)
        return [heap for heap in self.heaps if value_of(heap) in wanted]

    def change(self, chosen: list[Heap]) -> SetFree:
        pairs = {(heap.subassembly, heap.need) for heap in chosen}
        return what_if(self.found, self.counts, self.singles, self.now.holds, pairs)

    def sorts(self, chosen: Iterable[Heap] = ()) -> list[SortOfDay]:
        """The sort of day first that holds the first of all."""
        ticked = {value_of(heap) for heap in chosen}
        made = []
        for heading, needs in DAYS:
            if own := [heap for heap in self.heaps if heap.need in needs]:
                rows = [self._row(heap, value_of(heap) in ticked) for heap in own]
                sort = SortOfDay(
                    heading=heading,
                    pieces=sum(heap.number for heap in own),
                    clears=len({id for heap in own for id in heap.clears}),
                    rows=rows[:SHOWN],
                    more=rows[SHOWN:],
                    ticked=any(row.ticked for row in rows),
                )
                made.append((own[0].turn, sort))
        return [sort for _, sort in sorted(made, key=itemgetter(0))]

    def _row(self, heap: Heap, ticked: bool) -> HeapRow:
        by_id, behind = self.found.order.by_id, heap.behind.bit_count()
        clears = [by_id[id].name for id in heap.clears]
        told = [f"clears {', '.join(clears)}"] if clears else []
        told += [f"{several(behind, 'subassembly waits', 'subassemblies wait')} for it"] if behind else []
        return HeapRow(
            value=value_of(heap),
            words=f"{by_id[heap.subassembly].name}: {heap.number} to {TO_DO.get(heap.need, heap.need)}",
            sets_free="; ".join(told),
            waits=_waits(heap.leeway),
            ticked=ticked,
        )


TO_DO: dict[str, str] = {
    REFIT: "refit, and can go on now",
    Need.RECHECK: "look at again",
    Need.SOURCE: "order or begin",
    Need.AWAIT: "chase",
    Need.RELEASE: "have released",
    Need.FIT: "settle the fit of",
}


def _waits(days: int | None) -> str:
    if days is None:
        return ""
    if days <= 0:
        return "each day left makes the whole later"
    return f"may wait {several(days, 'open day')}"


def value_of(heap: Heap) -> str:
    return f"{heap.subassembly}:{heap.need}"


def days_left(locomotive: Locomotive, today) -> dict[str, int]:
    """Open days by subassembly that its work may wait, worked out once for what it rests on."""
    key = f"leeway-{locomotive.pk}-{today}-{Event.objects.newest_number()}"
    found: dict[str, int] | Any = cache.get(key)
    if found is None:
        found = leeway(OpenWork(locomotive, today).workshop())
        cache.set(key, found, timeout=24 * 3600)
    return found
