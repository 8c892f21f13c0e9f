"""The rows of the drawing from what readiness has counted."""

from collections.abc import Callable

from ..readiness import Readiness, SubReadiness
from ..words import Need
from .engine import SubassemblyCounts

NOTHING_THERE = (Need.SOURCE, Need.AWAIT)


def rows_of(found: Readiness, address: Callable[[str], str] = lambda code: "") -> list[SubassemblyCounts]:
    """A row for each subassembly with places of its own, so that every place is drawn once.

    `address` gives where a part leads to, from the code of its subassembly.
    """
    return [_row(sub, address(sub.sub.code)) for sub in found.subassemblies if sub.own.required]


def _row(found: SubReadiness, href: str) -> SubassemblyCounts:
    return SubassemblyCounts(
        code=found.sub.code,
        name=found.sub.name,
        required=found.own.required,
        refitted=found.own.refitted,
        ready=found.own.ready,
        in_place=found.needs.get(Need.STRIP, 0),
        missing=sum(found.needs.get(need, 0) for need in NOTHING_THERE),
        in_doubt=found.unsure + found.needs.get(Need.RECHECK, 0),
        href=href,
    )
