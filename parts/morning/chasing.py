"""Whom to ring first: what each promise holds up, in the one order of all work, and how late it is."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from core.models import Person

from ..domain.ranking import in_words, turn, who_acts
from ..domain.readiness import Readiness
from ..domain.rows import Actor
from ..models import Firm
from ..readiness.jobs import held_in_words
from ..work.promises import Call, Chase, Promised

FAR = 10_000
"""Days of leeway of what no day is promised for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """One promise, how many incomplete subassemblies it holds up, which those are, and who acts."""

    promised: Promised
    turn: tuple[Any, ...]
    holds_up: int
    held: str
    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FirmToRing:
    firm: Firm
    called: Call | None
    rows: list[Ring]

    @property
    def late(self) -> list[Ring]:
        return [row for row in self.rows if row.promised.late]

    @property
    def in_time(self) -> list[Ring]:
        return [row for row in self.rows if not row.promised.late]

    @property
    def next_due(self) -> date | None:
        return min((row.promised.due for row in self.in_time if row.promised.due), default=None)


def to_ring(
    chased: Sequence[Chase], found: Readiness | None, people: Sequence[Actor], today: date, reader: Person | None = None
) -> list[FirmToRing]:
    """What is overdue before what is not; then as all work is ranked. Without an order of assembly nothing is known
    of what a promise holds up."""
    rows = [
        FirmToRing(
            firm=one.firm,
            called=one.called,
            rows=sorted((_ring(each, found, people, today, reader) for each in one.promised), key=_turn),
        )
        for one in chased
    ]
    return sorted(rows, key=lambda row: _turn(row.rows[0]))


def _turn(row: Ring) -> tuple[Any, ...]:
    return not row.promised.late, row.turn, row.promised.what


def _ring(one: Promised, found: Readiness | None, people, today: date, reader: Person | None) -> Ring:
    behind = 0
    for place in one.places:
        if found and place.subassembly_id in found.order.by_id:  # else it is of another locomotive
            node = found.order.node(place.pk, place.subassembly_id, place.needed_first)
            behind |= found.order.behind[node] & found.incomplete()
    leeway = (one.due - today).days if one.due else FAR
    return Ring(
        promised=one,
        turn=turn(one.need, behind.bit_count(), leeway=leeway),
        holds_up=behind.bit_count(),
        held=held_in_words(found.order.names(behind)) if found else "",
        who=in_words(who_acts(one.need, people), str(reader or "")),
    )
