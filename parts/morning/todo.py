"""What one person can do now, in the one order."""

from collections.abc import Sequence
from dataclasses import dataclass

from core.models import Person
from core.roles import Role

from ..domain.ranking import BOILER, REFIT, WORK, needs_of
from ..domain.readiness import Blocker, Readiness
from ..domain.rows import Actor
from ..domain.words import Need
from ..queries.readiness import Now
from ..readiness.jobs import Job, jobs
from ..readiness.worklist import WorkList
from .groups import GROUPED, groups

MOST = 10
A_COLUMN = 5
DECIDE = frozenset({BOILER, Need.RELEASE, Need.DECIDE, Need.SIGN, Need.FIT})
CHASED = frozenset({Need.AWAIT, Need.FETCH})
"""Told by firm, in the column of what is to be chased."""
COLUMNS = (
    ("Decide and sign", DECIDE, "for=responsible+engineer"),
    ("Can go on today", frozenset({REFIT}), "need=refit"),
)


@dataclass(frozen=True, kw_only=True)
class TodoColumn:
    heading: str
    rows: list[Job]
    many: int  # in all
    query: str  # of the whole list


@dataclass(frozen=True, kw_only=True)
class Todo:
    rows: list[Job]
    many: int  # in all, as the whole list counts them; 0 where every row is shown
    columns: list[TodoColumn]  # of the works manager


def todo(
    now: Now,
    found: Readiness,
    people: list[Actor],
    reader: Person,
    *,
    everything: bool,
    beside: Sequence[Blocker] = (),
) -> Todo:
    """`beside`: what waits though no place needs it."""
    me = next(one for one in people if one.id == reader.pk)
    manager = Role.WORKS_MANAGER in me.roles
    needs = WORK if everything else needs_of(me.roles)
    columns = []
    if manager:
        needs -= DECIDE | CHASED | {REFIT}
        for heading, wanted, query in COLUMNS:
            work = WorkList(now, wanted, found, beside)
            rows = jobs(work[0:A_COLUMN], found, people, reader)
            columns.append(TodoColumn(heading=heading, rows=rows, many=len(work), query=query))
    most = A_COLUMN if manager else MOST
    heaps = groups(now, found, needs, people, me, everything=everything)
    work = WorkList(now, needs - GROUPED, found, beside)
    rows = [*heaps, *jobs(work[0:most], found, people, reader)]
    rows.sort(key=lambda job: job.turn)
    listed = WORK if everything else needs_of(me.roles)
    many = sum(work.totals[need] for need in listed) if len(heaps) + len(work) > most else 0
    return Todo(rows=rows[:most], many=many, columns=columns)
