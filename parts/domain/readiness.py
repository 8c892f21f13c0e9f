"""How far each subassembly is from going together, and what blocks it.

Two ways in, one arithmetic: `readiness` from whole rows, and `readiness_from_counts` from grouped counts (for the
overview of a large locomotive), with only the places that need telling one by one as rows.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache, partial
from typing import Any, NamedTuple

from .needs import PlaceStatus, Standing, standing_today
from .piece_needs import held_in_words
from .plain import several
from .ranking import REFIT, look_of, turn
from .rows import Hold, Piece, Place
from .sequence import ON, START, Order, OrderedPlace, Sub, Wait, waits_for
from .tallies import Count, Progress, Tally, tallied
from .words import Need

Holds = Mapping[int | None, tuple[Hold, ...]]
"""Hold points on subassemblies, by id; those on the whole overhaul under None."""

SOURCE = Need.SOURCE.value  # as a plain word, which is found in a sixth of the time

STOPS_ASSEMBLY = frozenset({"refit", "assemble"})


class Blocker(NamedTuple):
    """One thing in the way: of a place, or (with no place) of the subassembly itself."""

    subassembly: int
    need: str  # a words.Need; "refit" for what is ready and can go on
    reasons: tuple[str, ...]
    holds_up: int
    place: int | None = None
    position: str | None = None
    words: str = ""  # the place in full, for people
    side: str = ""
    axle: str = ""
    end: str = ""
    tag: str = ""
    since: date | None = None
    due: date | None = None
    target: int = 0  # the hold point, repair or renewal that the leading reason is about
    inherited: bool = False  # a hold point that sits higher up, and is told there too
    behind: int = 0  # which incomplete subassemblies it holds up, as Order.names takes them
    where: str = ""  # it lies
    look: str = ""  # the authorisation that its examination takes
    stopped: bool = False  # somebody stopped all work on it at once

    @property
    def turn(self) -> tuple[Any, ...]:
        return *turn(self.need, self.holds_up, stopped=self.stopped), self.words, self.reasons


class SubReadiness(NamedTuple):
    """How one subassembly stands. `waits` names everything it goes on after, whether that is there or not."""

    sub: Sub
    own: Progress
    branch: Progress  # it and all below it
    needs: Mapping[str, int]  # how many of its own blocked places lead with each need
    unsure: int  # how many of its own refitted places are in doubt or on trial
    held: bool  # a hold point stops putting it together
    its_turn: bool  # what it goes on after is there, and no hold point stops it: what is ready here may be refitted
    own_clear: bool  # nor is one of its own places blocked: what is ready here can go on today
    clear_to_assemble: bool  # nor those of its parts
    complete: bool
    waits: tuple[Wait, ...]
    behind: int  # which incomplete subassemblies its ordinary places and those of its parts hold up, as Order.names
    blockers: tuple[Blocker, ...]

    @property
    def holds_up(self) -> int:
        return self.behind.bit_count()


@dataclass(frozen=True, slots=True)
class Readiness:
    """One locomotive, every subassembly in order of assembly."""

    locomotive: str
    as_of: date
    order: Order
    subassemblies: tuple[SubReadiness, ...]

    def incomplete(self) -> int:
        """Those that are not complete, as Order.holds_up takes it."""
        return self.order.incomplete(sub.sub.id for sub in self.subassemblies if not sub.complete)


def readiness(places: Iterable[Place], order: Order, holds: Holds, today: date, *, locomotive: str = "") -> Readiness:
    """From whole rows: every place is judged and every blocker told."""
    told = [(place, standing_today(place, today)) for place in places]
    return _told(_summed_up(tallied((), told), order, holds, today), told, locomotive)


def readiness_from_counts(
    counts: Iterable[Count],
    order: Order,
    holds: Holds,
    today: date,
    *,
    singles: Iterable[tuple[Place, Standing]] = (),
    listed: Iterable[Place] = (),
    locomotive: str = "",
) -> Readiness:
    """From counts of stored standings.

    `singles` are places that are not in the counts (or taken out of them by negative counts), each with its standing
    today: those with an order of their own, and those that the calendar has changed. `listed` are counted already, and
    are given only so that what blocks them is told.
    """
    return readiness_from_tallies(tallied(counts, singles), order, holds, today, listed=listed, locomotive=locomotive)


def readiness_from_tallies(
    tallies: Mapping[int, Tally],
    order: Order,
    holds: Holds,
    today: date,
    *,
    listed: Iterable[Place] = (),
    locomotive: str = "",
) -> Readiness:
    sums = _summed_up(tallies, order, holds, today)
    return _told(sums, [(place, standing_today(place, today)) for place in listed], locomotive)


def ordered_place(place: Place) -> OrderedPlace | None:
    """A place as the order of assembly sees it, if it has an order of its own."""
    if not (place.own_order and place.required):
        return None
    return OrderedPlace(place.id, place.subassembly, place.own_order, place.words or place.name, place.needed_first)


def missing_wholes(found: Readiness) -> dict[int, list[int]]:
    """The uppermost subassemblies of which not one piece is here, each with the parts that have places. One with a part
    of which there is a piece is not missing as a whole."""
    missing = [sub.sub.id for sub in found.subassemblies if _is_missing(sub)]
    if not missing:
        return {}
    lineage = found.order.lineage
    own = {sub.sub.id for sub in found.subassemblies if sub.own.required}
    there = {above for id in own.difference(missing) for above in lineage[id]}
    wholes: dict[int, list[int]] = {}
    for id in (id for id in missing if id not in there):
        top = [above for above in lineage[id] if above not in there][-1]
        wholes.setdefault(top, []).append(id)
    return wholes


def _is_missing(sub: SubReadiness) -> bool:
    """Not one piece of it is here, and at least two places wait for somebody to say where the piece comes from."""
    source = sub.needs.get(SOURCE, 0)
    return source > 1 and sub.own.required == sub.own.blocked == source + sub.needs.get(Need.AWAIT, 0)


def blockers_at(found: Readiness, places: Iterable[Place]) -> dict[int, Blocker]:
    """What blocks these places, by place, for those that were only counted when readiness was found."""
    order = found.order
    incomplete = found.incomplete()
    told = [(place, standing_today(place, found.as_of)) for place in places]
    return {blocker.place: blocker for blocker in _place_blockers(order, incomplete, told) if blocker.place}


def goes_on_at(found: Readiness, places: Iterable[Place]) -> dict[int, Blocker]:
    """The places among these that are ready, as things that can go on; whether their turn has come the caller knows."""
    incomplete, ready = found.incomplete(), {}
    for place in places:
        standing = standing_today(place, found.as_of)
        if standing.status == PlaceStatus.READY:
            node = found.order.node(place.id, place.subassembly, place.needed_first)
            ready[place.id] = _of_place(place, standing, found.order.behind[node] & incomplete, need=REFIT)
    return ready


def can_go_on(found: Readiness, sub: SubReadiness, ready: Iterable[Place]) -> list[Place]:
    """The ready places of this subassembly whose turn has come: nothing stops the subassembly, and what the place
    itself goes on after is there."""
    if not sub.own_clear:
        return []
    done = {one.sub.id for one in found.subassemblies if one.branch.refitted == one.branch.required}
    return [place for place in ready if not (own := ordered_place(place)) or done.issuperset(own.after)]


# --- the arithmetic


@dataclass(frozen=True, slots=True)
class _Sums:
    """What is known of all subassemblies together before any one of them is told."""

    order: Order
    holds: Holds
    today: date
    own: dict[int, Tally]
    progress_of: dict[int, Progress]
    branch: dict[int, Progress]
    blocked: frozenset[int]  # with a blocked place, here or in a part; places with an order of their own aside
    complete: frozenset[int]
    incomplete: int  # as Order.holds_up takes it
    behind: dict[int, int]  # of each that is not complete, its parts included
    waits: dict[int, tuple[Wait, ...]]

    def finished(self, id: int) -> bool:
        """Nothing is left here to be stopped."""
        return id in self.complete and self.branch[id].required > 0

    def first_open(self) -> int | None:
        """Where a hold point on the whole overhaul is told, among what to do next."""
        return next((id for id in self.order.sequence if not self.finished(id)), None)


def _summed_up(tallies: Mapping[int, Tally], order: Order, holds: Holds, today: date) -> _Sums:
    own = {id: tallies.get(id) or Tally() for id in order.by_id}
    progress_of = {id: tally.progress() for id, tally in own.items()}
    branch = _branches(progress_of, order)
    unsure = _with_all_above((id for id, tally in own.items() if tally.unsure), order)
    complete = frozenset(
        id for id, progress in branch.items() if progress.refitted == progress.required and id not in unsure
    )
    blocked = _with_all_above((id for id, tally in own.items() if tally.blocked > tally.blocked_ordered), order)
    open_ordered = set().union(*(tally.open_ordered for tally in own.values()))
    waits = waits_for(order, {id: tally.lacking for id, tally in own.items()}, open_ordered)
    incomplete = order.incomplete(order.by_id.keys() - complete)
    behind = _behind(order, complete, incomplete)
    return _Sums(order, holds, today, own, progress_of, branch, blocked, complete, incomplete, behind, waits)


def _behind(order: Order, complete: frozenset[int], incomplete: int) -> dict[int, int]:
    behind = {id: 0 if id in complete else order.behind[ON, id] & incomplete for id in order.by_id}
    for part, whole in order.parts_first:
        behind[whole] |= behind[part]
    return behind


def _with_all_above(ids: Iterable[int], order: Order) -> frozenset[int]:
    return frozenset(up for id in ids for up in order.lineage[id])


def _branches(progress_of: dict[int, Progress], order: Order) -> dict[int, Progress]:
    branch = dict.fromkeys(order.by_id, Progress()) | progress_of
    for part, whole in order.parts_first:
        branch[whole] = branch[whole].with_part(branch[part])
    return branch


def _told(sums: _Sums, standings: list[tuple[Place, Standing]], locomotive: str) -> Readiness:
    listed: dict[int, list[Blocker]] = {}
    for blocker in _place_blockers(sums.order, sums.incomplete, standings):
        listed.setdefault(blocker.subassembly, []).append(blocker)
    subs = tuple(_one(sums, id, listed.get(id, [])) for id in sums.order.sequence)
    return Readiness(locomotive, sums.today, sums.order, subs)


def _one(sums: _Sums, id: int, listed: list[Blocker]) -> SubReadiness:
    own, progress = sums.own[id], sums.progress_of[id]
    held, waits = list(_held(sums, id)) if sums.holds else [], sums.waits[id]
    after = waits and _told_after(sums.order)(id, waits, sums.order.behind[START, id] & sums.incomplete)
    is_held = bool(held) and any(not hold.stops.isdisjoint(STOPS_ASSEMBLY) for hold, _ in held)
    stopped = after or is_held
    blockers = listed if sums.finished(id) else [*listed, *(blocker for _, blocker in held), *after]
    return SubReadiness(  # by place: to name each takes twice as long
        sums.order.by_id[id],
        progress,
        sums.branch[id],
        own.needs,
        own.unsure,
        is_held,
        not stopped,
        own.blocked == own.blocked_ordered and not stopped,
        id not in sums.blocked and not stopped,
        id in sums.complete,
        waits,
        sums.behind[id],
        tuple(sorted(blockers, key=_turn) if len(blockers) > 1 else blockers),
    )


def _held(sums: _Sums, id: int) -> Iterator[tuple[Hold, Blocker]]:
    """Hold points on it, on what it is a part of, and on the whole overhaul, whatever they stop: all of them stand
    between it and being whole, and the few that stop putting together keep it from being clear to assemble."""
    for holder in (*sums.order.lineage[id], None):
        for hold in sums.holds.get(holder, ()):
            if not hold.is_released_on(sums.today):
                yield hold, _of_hold(sums, id, holder, hold)


def _of_hold(sums: _Sums, id: int, holder: int | None, hold: Hold) -> Blocker:
    sentence = held_in_words(hold, sorted(hold.stops))
    if holder is None:
        sentence, behind = f"On the whole overhaul: {sentence}", sums.incomplete
        inherited = id != sums.first_open()
    else:
        inherited = id != holder
        sentence = f"On {sums.order.by_id[holder].name}: {sentence}" if inherited else sentence
        behind = sums.order.behind[START, holder] & sums.incomplete
    return Blocker(
        id, Need.RELEASE, (sentence,), behind.bit_count(), since=hold.asked, target=hold.id, inherited=inherited,
        behind=behind,
    )  # fmt: skip


@lru_cache(maxsize=64)
def _told_after(order: Order) -> Callable[[int, tuple[Wait, ...], int], tuple[Blocker, ...]]:
    """Little changes at once, and what most of them wait for is told as it was. Kept for as many orders as `order_of`
    keeps, so that none stays because of it."""
    return lru_cache(maxsize=1024)(partial(_after, order.by_id))


def lacking(waits: Iterable[Wait]) -> list[Wait]:
    """Those of which something is not there yet, what lacks most first."""
    return sorted((wait for wait in waits if wait.places), key=lambda wait: -wait.places)


def _after(by_id: Mapping[int, Sub], id: int, waits: tuple[Wait, ...], behind: int) -> tuple[Blocker, ...]:
    reasons = [
        _after_in_words(by_id[wait.id].name, "" if wait.through == id else by_id[wait.through].name, wait.places)
        for wait in lacking(waits)
    ]
    return (Blocker(id, Need.AFTER, tuple(reasons), behind.bit_count(), behind=behind),) if reasons else ()


def _after_in_words(before: str, through: str, places: int) -> str:
    told = f", as all of {through} does" if through else ""
    left = several(places, "place is", "places are")
    return f"Goes on after {before}{told}: {left} not refitted there that must be first."


def _place_blockers(order: Order, incomplete: int, standings: list[tuple[Place, Standing]]) -> Iterator[Blocker]:
    for place, found in {place.id: (place, found) for place, found in standings}.values():
        if found.status == PlaceStatus.BLOCKED or (found.status == PlaceStatus.REFITTED and found.in_doubt):
            node = order.node(place.id, place.subassembly, place.needed_first)
            yield _of_place(place, found, order.behind[node] & incomplete)


def _of_place(place: Place, found: Standing, behind: int, need: str = "") -> Blocker:
    need = need or found.need or ""
    assert need  # what is blocked or in doubt needs something
    piece = _told_of(place, found.tag)
    return Blocker(
        subassembly=place.subassembly,
        need=need,
        reasons=found.reasons,
        holds_up=behind.bit_count(),
        behind=behind,
        where=piece.where if piece else "",
        look=look_of(need, place),
        stopped=need == Need.RELEASE and _is_stop(place, found.target),
        place=place.id,
        position=place.name,
        words=place.words or place.name,
        side=str(place.side),
        axle=place.axle,
        end=place.end,
        tag=piece.tag if piece and need == REFIT else found.tag,
        since=found.since,
        due=found.due,
        target=found.target,
    )


def _told_of(place: Place, tag: str) -> Piece | None:
    """The piece that the leading reason is about, or the first of those in the place."""
    return next((piece for piece in place.pieces if not tag or piece.tag == tag), None)


def _is_stop(place: Place, hold: int) -> bool:
    holds = (*place.holds, *(each for piece in place.pieces for each in piece.holds))
    return any(each.id == hold and each.stopped_by for each in holds)


def _turn(blocker: Blocker) -> tuple[Any, ...]:
    return blocker.turn
