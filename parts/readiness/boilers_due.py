"""Rows of a boiler's written scheme that are due, among everything that waits."""

from ..domain.ranking import BOILER
from ..domain.readiness import Blocker, Readiness
from ..domain.sequence import WHOLE
from ..models import Locomotive
from ..queries.measured import measured


def boilers_due(locomotive: Locomotive, found: Readiness) -> list[Blocker]:
    """They come first, as work that is stopped does: while one is due nobody uses the boiler. Each holds up the boiler
    and what waits for all of it."""
    rows = measured.examinations_due(locomotive, found.as_of)
    subs = [id for id in found.order.sequence if _is_of_boiler(found.order.by_id[id].code)]
    if not (rows and found.order.sequence):
        return []
    behind, incomplete = 0, found.incomplete()
    for id in subs:
        behind |= found.order.behind[WHOLE, id] & incomplete
    return [
        Blocker(
            subassembly=(subs or found.order.sequence)[0],
            need=BOILER,
            reasons=("Due by the written scheme." if one.until else "By the written scheme, and never done.",),
            holds_up=behind.bit_count(),
            behind=behind,
            words=one.words if one.until else f"{one.words}, never done",
            due=one.until,
            target=one.boiler,
            stopped=True,
        )
        for one in rows
    ]


def _is_of_boiler(code: str) -> bool:
    return "boiler" in code or "firebox" in code
