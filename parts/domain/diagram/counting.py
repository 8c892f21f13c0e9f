"""The rows of the drawing from what readiness has counted."""

from collections.abc import Callable

from ..readiness import Readiness, SubReadiness
from ..words import Need
from .engine import Engine, SubassemblyCounts
from .parts_table import part_of_code

STRIP, SOURCE, AWAIT, RECHECK = Need.STRIP.value, Need.SOURCE.value, Need.AWAIT.value, Need.RECHECK.value
"""As plain words, which are found in a sixth of the time: each is asked of hundreds of subassemblies."""

MOST_BOXES = 24
"""A picture beside three hundred boxes tells nobody anything."""


def rows_of(found: Readiness, address: Callable[[str], str] = lambda code: "") -> list[SubassemblyCounts]:
    """A row for each subassembly with places of its own, so that every place is drawn once.

    `address` gives where a part leads to, from the code of its subassembly.
    """
    return [_row(sub, address(sub.sub.code)) for sub in found.subassemblies if sub.own.required]


def few_rows_of(found: Readiness, engine: Engine, address: Callable[[str], str]) -> list[SubassemblyCounts]:
    """Those that are a part of the drawing, and of the others the first; what remains of these is one row together,
    which leads nowhere."""
    subs = [sub for sub in found.subassemblies if sub.own.required]
    rest = [sub for sub in subs if not part_of_code(sub.sub.code, engine)][MOST_BOXES:]
    if len(rest) < 2:
        return rows_of(found, address)
    left = {sub.sub.id for sub in rest}
    rows = [_row(sub, address(sub.sub.code)) for sub in subs if sub.sub.id not in left]
    together = map(sum, zip(*map(_counts, rest), strict=True))
    return [*rows, SubassemblyCounts._make(("", f"{len(rest)} other subassemblies", *together, "", ""))]


def _row(found: SubReadiness, href: str) -> SubassemblyCounts:
    return SubassemblyCounts(found.sub.code, found.sub.name, *_counts(found), href)


def _counts(found: SubReadiness) -> tuple[int, int, int, int, int, int]:
    """In the order in which a row has them."""
    needs, own = found.needs.get, found.own
    return (
        own.required,
        own.refitted,
        own.ready,
        needs(STRIP, 0),
        needs(SOURCE, 0) + needs(AWAIT, 0),
        found.unsure + needs(RECHECK, 0),
    )
