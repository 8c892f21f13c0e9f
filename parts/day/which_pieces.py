"""Which pieces a job about several in one place means, as they lie there now."""

from collections import defaultdict
from collections.abc import Sequence
from urllib.parse import parse_qs, urlsplit

from django.db.models import Q

from ..domain.plain import capital
from ..domain.ranking import LOOK_AT, look_of_method
from ..domain.words import IN_HAND, Need, State
from ..models import Component, DayJob, DaySheet
from ..morning.groups import BY_PLACE

MOST = 12
"""So many are named; the rest are counted."""


def name_pieces(sheet: DaySheet, jobs: Sequence[DayJob]) -> None:
    """Gives each job `pieces`, the names and tags of what it is about, in one query. Blank: nothing is known."""
    of_heap = {}
    for job in jobs:
        job.pieces = ""
        if job.need in BY_PLACE and (path := _path(job)) is not None:
            of_heap[job.need, job.look, path] = job
    if not of_heap:
        return
    lying = Component.objects.filter(
        place__locomotive=sheet.locomotive, place__retired=False, place__standing="blocked", state__in=IN_HAND,
        place__need__in={need for need, _, _ in of_heap},
    ).filter(Q(location__isnull=True) | Q(location__path__in={path for _, _, path in of_heap}))  # fmt: skip
    found = defaultdict(list)
    for piece in lying.with_codes().select_related("place", "location").order_by("name", "id"):
        need = piece.place.need
        if (need == Need.CLEAN) == (piece.state == State.STRIPPED):
            crack = need == Need.CRACK_CHECK
            look = look_of_method(piece.place.crack_check) if crack else LOOK_AT.get(need, "")
            found[need, look, piece.location.path if piece.location else ""].append(
                f"{piece.name} {piece.code}" if piece.code else piece.name
            )
    for key, job in of_heap.items():
        names = found[key]
        more = f", and {len(names) - MOST} more" if len(names) > MOST else ""
        job.pieces = capital(", ".join(names[:MOST])) + more


def _path(job: DayJob) -> str | None:
    asked = parse_qs(urlsplit(job.href).query, keep_blank_values=True)
    return next((asked[name][0] for name in ("where", "at") if name in asked), None)
