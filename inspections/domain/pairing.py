"""Which sizes run together, by the names of their places: journals in their brasses, where it is sure.

A brass with one bore is the mate of the one journal of the axle above it: same axle, same side, both on the engine or
both on the tender. An axle whose journals are measured as one size is paired with both brasses: of its readings the
worst counts. Anything that could be meant in two ways is left to the engineer. Common practice, no source.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from parts.domain.register_cells import fold

SIDES = ("LH", "RH")


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeToPair:
    """A dimension of a place, as far as pairing asks."""

    number: int
    name: str  # "LH journal diameter"
    place: str  # the name of its place: "axlebox brass"
    axle: str
    side: str = ""
    wears: str = "either"


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    hole: int
    shaft: int
    name: str


Spot = tuple[tuple[str, bool], str]
"""An axle, and the side of it."""


def propose(sizes: Iterable[SizeToPair], there: frozenset[tuple[int, int]] = frozenset()) -> list[Proposed]:
    """`there`: pairs of a hole and a shaft that are fits already."""
    bores: dict[Spot, list[SizeToPair]] = defaultdict(list)
    journals: dict[Spot, list[SizeToPair]] = defaultdict(list)
    for size in sizes:
        if _is_brass(size):
            bores[_axle(size), size.side].append(size)
        elif _is_journal(size):
            journals[_axle(size), _side_of_journal(size)].append(size)
    found = []
    for (axle, side), holes in bores.items():
        shafts = journals.get((axle, side)) or journals.get((axle, ""), [])
        if len(holes) == len(shafts) == 1 and (holes[0].number, shafts[0].number) not in there:
            hole, shaft = holes[0], shafts[0]
            words = ", ".join(filter(None, (f"{shaft.place} journal in {hole.place}", side, hole.axle)))
            found.append(Proposed(hole=hole.number, shaft=shaft.number, name=words))
    return found


def _is_brass(size: SizeToPair) -> bool:
    words = fold(size.place).split()
    return (
        words[-1:] in (["brass"], ["bearing"]) and "bore" in fold(size.name).split()
        and size.side in SIDES and bool(size.axle) and size.wears != "smaller"
    )  # fmt: skip


def _is_journal(size: SizeToPair) -> bool:
    words = fold(size.place).split()
    named = fold(size.name).split()
    return words[-1:] == ["axle"] and "journal" in named and "length" not in named and size.wears != "larger"


def _side_of_journal(size: SizeToPair) -> str:
    named = [side for side in SIDES if fold(side) in fold(size.name).replace(",", " ").split()]
    return named[0] if len(named) == 1 else ""


def _axle(size: SizeToPair) -> tuple[str, bool]:
    """The axle, and whether it is the tender's."""
    return fold(size.axle), "tender" in fold(f"{size.place} {size.axle}").split()
