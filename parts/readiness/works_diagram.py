"""The drawing of a locomotive on a page: one for a desk and for paper, one for a phone, and the ways from it."""

from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from ..domain.diagram.counting import few_rows_of, rows_of
from ..domain.diagram.drawings import as_file, for_desk, for_phone, zone_of
from ..domain.diagram.engine import Engine, SubassemblyCounts
from ..domain.plain import day
from ..domain.readiness import Readiness
from ..models import Locomotive
from ..queries.engines import engine_of

SIDES, ZONES = ("LH", "RH"), ("front", "middle", "rear")
OVER_A_LIST = 250.0
"""So high that at a desk fifteen rows of the list below it are in sight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorksDiagram:
    desk: SafeString
    phone: SafeString
    side: str
    other: str  # the side that is not shown
    other_href: str
    file_href: str
    zone: str  # the part of the list that is shown; blank is all of it
    all_href: str
    codes: frozenset[str]  # of the subassemblies in that zone, if one is chosen


def works_diagram(locomotive: Locomotive, found: Readiness, *, side: str = "", zone: str = "") -> WorksDiagram:
    """An unknown side is LH, an unknown zone none."""
    side = side if side in SIDES else SIDES[0]
    zone = zone if zone in ZONES else ""
    top = locomotive.get_absolute_url()
    engine = _engine(locomotive, found)
    rows = few_rows_of(found, engine, lambda code: f"{top}s/{code}/")
    other = SIDES[1 - SIDES.index(side)]
    shown = found.subassemblies if zone else ()
    zones = tuple((each, f"{top}?{_query(side, each)}#subassemblies") for each in ZONES)
    desk, phone = _drawn(engine, tuple(rows), zones, side)
    return WorksDiagram(
        desk=desk,
        phone=phone,
        side=side,
        other=other,
        other_href=f"{top}?{_query(other, zone)}",
        file_href=f"{reverse('diagram', args=[locomotive.slug])}?{_query(side)}",
        zone=zone,
        all_href=f"{top}?{_query(side)}#subassemblies",
        codes=frozenset(sub.sub.code for sub in shown if zone_of(_named(sub.sub), engine) == zone),
    )


@lru_cache(maxsize=16)
def _drawn(
    engine: Engine, rows: tuple[SubassemblyCounts, ...], zones: tuple[tuple[str, str], ...], side: str
) -> tuple[SafeString, SafeString]:
    """For a desk and for a phone. Most of what happens in the works changes neither."""
    desk, phone = (
        for_desk(engine, rows, side=side, key="desk", height=OVER_A_LIST),
        for_phone(engine, rows, dict(zones), side=side, key="phone"),
    )
    return mark_safe(desk), mark_safe(phone)


def diagram_file(locomotive: Locomotive, found: Readiness, side: str) -> str:
    """An SVG that stands by itself, with the locomotive's name and the day."""
    head = f"{locomotive.name}, as of {day(found.as_of)}"
    return as_file(_engine(locomotive, found), rows_of(found), head, side=side if side in SIDES else SIDES[0])


def _engine(locomotive: Locomotive, found: Readiness) -> Engine:
    return engine_of(locomotive, [sub.sub.code for sub in found.subassemblies])


def _named(sub) -> SubassemblyCounts:
    return SubassemblyCounts(code=sub.code, name=sub.name)


def _query(side: str, zone: str = "") -> str:
    return urlencode({"side": side} | ({"zone": zone} if zone else {}))
