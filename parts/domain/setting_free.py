"""What unblocks the most: the work of each subassembly that needs the same, what it would clear, and what if some of it
were done. Pure."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from .needs import PlaceStatus, Standing
from .plain import capital, several
from .ranking import REFIT, turn
from .readiness import Holds, Readiness, SubReadiness, readiness_from_counts
from .rows import Place
from .sequence import ON, WHOLE
from .tallies import Count
from .words import Need

DAYS: tuple[tuple[str, frozenset[str]], ...] = (
    ("Cleaning day", frozenset({Need.STRIP, Need.CLEAN})),
    ("Crack-check day", frozenset({Need.CRACK_CHECK})),
    ("Measuring day", frozenset({Need.MEASURE, Need.EXAMINE, Need.RECHECK})),
    ("At the bench", frozenset({Need.REPAIR, REFIT})),
    ("Decisions for the engineer", frozenset({Need.DECIDE, Need.SIGN, Need.RELEASE, Need.FIT})),
    ("Calls to firms", frozenset({Need.AWAIT, Need.FETCH, Need.SOURCE})),
    ("In the stores", frozenset({Need.FIND})),
)
"""Work as it is done together. Common practice, no source."""

DONE = {
    Need.STRIP: "stripped",
    Need.CLEAN: "cleaned",
    Need.CRACK_CHECK: "crack-checked",
    Need.MEASURE: "measured",
    Need.EXAMINE: "examined",
    Need.REPAIR: "repaired",
    Need.SIGN: "signed",
    Need.RELEASE: "released",
    Need.FIND: "found",
    REFIT: "refitted",
}

Chosen = Collection[tuple[int, str]]
"""Pairs of a subassembly's number and a need."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heap:
    """All places of one subassembly that need the same. `clears`: the subassemblies that would be clear to assemble, if
    this were done and nothing came of it; `behind`: the incomplete ones that wait for it, as Order.names takes them."""

    subassembly: int
    need: str
    number: int
    clears: tuple[int, ...] = ()
    behind: int = 0
    leeway: int | None = None  # open days that it may wait before the whole is later; None: not known

    @property
    def turn(self) -> tuple[Any, ...]:
        holds_up = self.behind.bit_count()
        return *turn(self.need, holds_up, clears=len(self.clears), leeway=self.leeway or 0), self.subassembly


def heaps(
    found: Readiness,
    counts: Iterable[Count],
    singles: Iterable[tuple[Place, Standing]],
    leeway: Mapping[str, int] | None = None,
) -> list[Heap]:
    """What can be set to, by whose turn comes first. `leeway`: open days by the code of a subassembly."""
    subs = {sub.sub.id: sub for sub in found.subassemblies}
    by, in_way, first_ready = _added_up(subs, counts, singles)
    branch: defaultdict[int, int] = defaultdict(int)
    for id, number in in_way.items():
        for above in found.order.lineage[id]:
            branch[above] += number
    waiting = [sub for sub in found.subassemblies if not (_was_clear(sub) or sub.held or branch[sub.sub.id])]
    incomplete, made = found.incomplete(), []
    for (id, need), heap in by.items():
        if heap.number > 0:
            up = found.order.lineage[id]
            clears = (
                _begun_by(waiting, up, first_ready[id])
                if need == REFIT
                else [one for one in up if _cleared(subs[one], heap.ordinary, branch[one])]
            )
            node = (ON if heap.first else WHOLE), id
            made.append(
                Heap(
                    subassembly=id,
                    need=need,
                    number=heap.number,
                    clears=tuple(clears),
                    behind=found.order.behind[node] & incomplete,
                    leeway=(leeway or {}).get(found.order.by_id[id].code),
                )
            )
    return sorted(made, key=lambda heap: heap.turn)


@dataclass(slots=True)
class _Sum:
    number: int = 0
    ordinary: int = 0  # blocked, with no order of their own
    first: bool = False  # some of them are needed first


def _added_up(
    subs: Mapping[int, SubReadiness], counts: Iterable[Count], singles: Iterable[tuple[Place, Standing]]
) -> tuple[dict[tuple[int, str], _Sum], dict[int, int], dict[int, int]]:
    """The heaps; how many of each subassembly's own places are in the way; and how many that are needed first are
    ready."""
    by: defaultdict[tuple[int, str], _Sum] = defaultdict(_Sum)
    in_way: defaultdict[int, int] = defaultdict(int)
    first_ready: defaultdict[int, int] = defaultdict(int)
    rows = [(*count, True) for count in counts]
    rows += [(p.subassembly, s.status, s.need, p.needed_first, 1, not p.own_order) for p, s in singles]
    for id, status, need, first, number, ordinary in rows:
        if status == PlaceStatus.READY:
            first_ready[id] += number if first and ordinary else 0
            need = REFIT if ordinary and subs[id].own_clear else ""
        elif status == PlaceStatus.BLOCKED and ordinary:
            in_way[id] += number
        elif status not in (PlaceStatus.BLOCKED, PlaceStatus.REFITTED):
            need = ""
        if need:
            heap = by[id, need]
            heap.number += number
            heap.ordinary += number if status == PlaceStatus.BLOCKED and ordinary else 0
            heap.first |= first
    return by, in_way, first_ready


def _cleared(sub: SubReadiness, number: int, in_way: int) -> bool:
    waits = any(wait.places for wait in sub.waits)
    return 0 < number == in_way and not (sub.held or waits)


def _begun_by(waiting: Iterable[SubReadiness], refitted_in: Sequence[int], number: int) -> list[int]:
    """Those that wait for these places and for nothing else."""
    return [
        sub.sub.id
        for sub in waiting
        if (open_ := [wait for wait in sub.waits if wait.places])
        and all(wait.id in refitted_in and wait.places == number for wait in open_)
    ]


# --- what if


@dataclass(frozen=True, slots=True, kw_only=True)
class SetFree:
    """What would be otherwise: subassemblies by number."""

    places: int
    clear: tuple[int, ...] = ()
    complete: tuple[int, ...] = ()
    more: Readiness = field(repr=False)


def what_if(
    found: Readiness,
    counts: Iterable[Count],
    singles: Iterable[tuple[Place, Standing]],
    holds: Holds,
    chosen: Chosen,
) -> SetFree:
    """Readiness again, with what is chosen done and nothing come of it."""
    counts, singles = list(counts), list(singles)
    done = [_done(count, chosen) for count in counts]
    done_singles = [(place, _single_done(place, standing, chosen)) for place, standing in singles]
    places = sum(before[4] for before, after in zip(counts, done, strict=True) if before != after)
    places += sum(before != after for before, after in zip(singles, done_singles, strict=True))
    then = readiness_from_counts(done, found.order, holds, found.as_of, singles=done_singles)
    was = {sub.sub.id: sub for sub in found.subassemblies}
    return SetFree(
        places=places,
        clear=tuple(s.sub.id for s in then.subassemblies if s.clear_to_assemble and not _was_clear(was[s.sub.id])),
        complete=tuple(s.sub.id for s in then.subassemblies if s.complete and not was[s.sub.id].complete),
        more=then,
    )


def _was_clear(sub: SubReadiness) -> bool:
    return sub.clear_to_assemble or sub.complete


def _single_done(place: Place, standing: Standing, chosen: Chosen) -> Standing:
    """What is ready and has an order of its own stays: whether its turn has come is not asked here."""
    before = Count(place.subassembly, standing.status, standing.need, place.needed_first, 1)
    after = _done(before, chosen)
    if after == before or (place.own_order and standing.status == PlaceStatus.READY):
        return standing
    return replace(standing, status=PlaceStatus(after.status), need=None, in_doubt=False)


def _done(count: Count, chosen: Chosen) -> Count:
    id, status, need, first, number = count
    if status == PlaceStatus.READY and (id, REFIT) in chosen:
        return Count(id, PlaceStatus.REFITTED, None, first, number)
    if need and (id, need) in chosen and status in (PlaceStatus.BLOCKED, PlaceStatus.REFITTED):
        return Count(id, PlaceStatus.READY if status == PlaceStatus.BLOCKED else status, None, first, number)
    return count


def in_words(change: SetFree, found: Readiness, needs: Collection[str]) -> str:
    """'If these 14 are crack-checked and nothing more is found, 3 subassemblies become clear to assemble: …'"""
    done = next((DONE.get(need, "dealt with") for need in needs), "") if len(set(needs)) == 1 else "dealt with"
    names = {id: found.order.by_id[id].name for id in (*change.clear, *change.complete)}
    told = [
        f"{several(len(ids), f'subassembly {one}', f'subassemblies {many}')}: {', '.join(names[id] for id in ids)}"
        for ids, one, many in (
            (change.complete, "is complete", "are complete"),
            (
                [id for id in change.clear if id not in change.complete],
                "becomes clear to assemble",
                "become clear to assemble",
            ),
        )
        if ids
    ]
    if_ = f"If {'this one is' if change.places == 1 else f'these {change.places} are'} {done} and nothing more is found"
    return capital(f"{if_}, {'; '.join(told) or 'no further subassembly becomes clear: other things stop them too'}.")
