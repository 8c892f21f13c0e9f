"""The dimensions that matter on a place, by its name: what is measured, where along it and across it, and how it wears.

They come without limits: those are the railway's, the maker's or the law's, and are added with their source.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Protocol

WEARS = ("smaller", "larger", "either")


@dataclass(frozen=True, slots=True)
class NamedDimension:
    """One dimension of a place. Its unit is that of the locomotive's drawings."""

    name: str
    stations: tuple[str, ...] = ()  # where along the piece it is taken
    directions: tuple[str, ...] = ()  # in which directions across it
    wears: str = "either"
    round_part: bool = False  # a diameter
    source: str = ""


class TableRow(Protocol):
    """A line of the table, which knows where it stands."""

    def __getitem__(self, column: str, /) -> str: ...

    def known(self, column: str, given: tuple[str, ...], words: Collection[str]) -> tuple[str, ...]: ...

    def listed(self, column: str) -> tuple[str, ...]: ...

    def quantity(self) -> int: ...

    def source(self) -> str: ...


def read_dimensions(rows: Iterable[TableRow], places: set[str]) -> dict[str, tuple[NamedDimension, ...]]:
    """The dimensions by the name of their place. A row is a line of the table that knows where it stands."""
    found: dict[str, list[NamedDimension]] = {}
    for row in rows:
        row.known("wears", (row["wears"],), WEARS)
        row.known("round", (row["round"],), {"", "yes"})
        named = NamedDimension(
            row["dimension"], row.listed("stations"), row.listed("directions"), row["wears"], row["round"] == "yes",
            row.source(),
        )  # fmt: skip
        for place in row.known("place", row.listed("place"), places):
            found.setdefault(place, []).append(named)
    return {place: tuple(named) for place, named in found.items()}
