"""The sheet for a day when somebody comes to look at everything at once: what waits, in the order of where it lies."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from itertools import islice

from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.domain.words import Kind, Method
from parts.models import Component

from ..domain.crack_methods import proposes
from .waiting import EXCAVATION, Waiting, Worklist

MOST = 600


@dataclass(frozen=True)
class PieceToExamine:
    """One piece on the sheet."""

    code: str
    name: str
    place: str
    subassembly: str
    material: str
    method: str
    surfaces: str
    wanted: str
    last: str

    @property
    def in_clear(self) -> str:
        return grouped(self.code) if self.code else "no tag"


@dataclass(frozen=True)
class SamePlace:
    where: str
    lines: list[PieceToExamine]


@dataclass(frozen=True)
class DaySheet:
    title: str
    day: date
    groups: list[SamePlace]
    left_out: int

    @property
    def number(self) -> int:
        return sum(len(group.lines) for group in self.groups)


def day_sheet(sort: str, worklist: Worklist) -> DaySheet:
    """Grouped by where the pieces lie. A sheet holds so many places at most, and says how many it left out."""
    found, where = worklist.places(sort), worklist.where
    places = list(islice(found.iterator(chunk_size=MOST), MOST + 1))
    left_out = found.count() - MOST if len(places) > MOST else 0
    groups: defaultdict[str, list[PieceToExamine]] = defaultdict(list)
    for row in worklist.with_looks(places[:MOST]):
        for look in row.looks:
            groups[lies(look.piece, row)].append(_line(row, look))
    title = f"To be looked at: {sort}" if sort else "To be looked at"
    ordered = [SamePlace(name, groups[name]) for name in sorted(groups)]
    return DaySheet(f"{title}{f', in {where}' if where else ''}", worklist.today, ordered, left_out)


def lies(piece: Component, row: Waiting) -> str:
    if piece.location:
        return piece.location.path
    return f"On {row.place.locomotive}, in its place" if piece.fitted_id else "Nobody has recorded where"


def _line(row: Waiting, look) -> PieceToExamine:
    place, piece = row.place, look.piece
    return PieceToExamine(
        code=piece.code or "",
        name=_named(piece, place.words),
        place="" if place.words.lower().startswith(piece.name.lower()) else place.words,
        subassembly=f"{place.locomotive.name} · {place.subassembly.name}",
        material=place.material,
        method=method_words(row),
        surfaces=", ".join(sorted(place.surfaces)),
        wanted=" ".join(look.wanted),
        last=look.last,
    )


def _named(piece: Component, place_words: str) -> str:
    """The piece as its place is called, where it is called the same; a lot says how many."""
    words = place_words if place_words.lower().startswith(piece.name.lower()) else piece.name
    return capital(words) + (f" × {piece.quantity}" if piece.quantity > 1 else "")


def method_words(row: Waiting) -> str:
    """The method called for, or what Cotter proposes where any will do."""
    method = row.place.crack_check
    if row.sort == EXCAVATION:
        return "excavation of a weld repair, before welding"
    if not row.sort.startswith(Kind.CRACK_CHECK) and not method:
        return row.sort
    if method not in ("", Method.ANY):
        return method
    proposed = " ".join(proposal.sentence for proposal in proposes("", row.place.material))
    return f"any method. Proposed: {proposed}"
