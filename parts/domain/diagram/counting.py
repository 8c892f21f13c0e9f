"""The rows of the drawing from what readiness has counted."""

from collections.abc import Callable

from ..readiness import Readiness, SubReadiness
from ..words import Need
from .engine import SubassemblyCounts


def rows_of(found: Readiness, address: Callable[[str], str] = lambda code: "") -> list[SubassemblyCounts]:
    """A row for each subassembly with places of its own, so that every place is drawn once.

    `address` gives where a part leads to, from the code of its subassembly.
    """
    return [_row(sub, address(sub.sub.code)) for sub in found.subassemblies if sub.own.required]


def _row(found: SubReadiness, href: str) -> SubassemblyCounts:
    needs = found.needs
    return SubassemblyCounts(
        code=found.sub.code,
        name=found.sub.name,
        required=found.own.required,
        refitted=found.own.refitted,
        ready=found.own.ready,
        in_place=needs.get(Need.STRIP, 0),
        missing=needs.get(Need.SOURCE, 0) + needs.get(Need.AWAIT, 0),
        in_doubt=found.unsure + needs.get(Need.RECHECK, 0),
        href=href,
    )
