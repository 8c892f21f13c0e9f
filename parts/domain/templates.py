"""The tables under parts/data/ that a structure is laid out from, read strictly: an unknown word is an error."""

import csv
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from .choices import CHOICES, Articulation, Boiler, Brake, ValveGear, Valves
from .consumables import NamedConsumable, read_consumables
from .named_dimensions import NamedDimension, read_dimensions
from .spots import DIMENSIONS
from .words import Kind, Method

DATA = Path(__file__).resolve().parent.parent / "data"

FLAGS = (
    "safety critical", "pressure part", "material papers", "not needed first", "made to suit", "carries identity"
)  # fmt: skip
FACTS = frozenset(
    {"tank", "tender", "side tanks", "saddle tank", "pannier tanks", "well tank", "tanks on the engine units", "crane"}
    | {"british", "american", "superheated", "steam heating", "inside frames", "outside frames"}
    | {"cylinders", "inside cylinders", "outside cylinders", "coupled", "power brake", "boiler", "main axles", "motors"}
    | {"inside cylinder", "outside cylinder", "its axle", "coupled axle", "driving axle", "crank axle", "motor axle"}
    | {"front rod", "rear rod", "pony", "bogie", "several engine units", "first unit", "last unit"}
    | {str(word) for words in (ValveGear, Boiler, Articulation) for word in words}
    | {f"{brake} brake" for brake in Brake}
    | {f"{kind} valves" for kind in Valves}
    | {str(word) for choice in CHOICES.values() for word in choice.words}
)


class TemplateError(ValueError):
    """A row of a table that says something the code does not know, naming the table, the line and the column."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Choices of which each must have one that holds: `tank, not well tank` or `Stephenson or Allan`."""

    all_of: tuple[tuple[tuple[bool, str], ...], ...] = ()

    def holds(self, facts: frozenset[str]) -> bool:
        for choices in self.all_of:  # asked some thousand times of each locomotive, so without generators
            for wanted, fact in choices:
                if (fact in facts) is wanted:
                    break
            else:
                return False
        return True


@dataclass(frozen=True, slots=True, kw_only=True)
class SubassemblyTemplate:
    code: str
    name: str
    parent: str
    scope: tuple[str, ...]
    when: Condition
    caution: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderTemplate:
    subassembly: str
    goes_on_after: str
    when: Condition
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PositionTemplate:
    subassembly: str
    name: str
    scope: tuple[str, ...]
    end: tuple[str, ...]
    when: Condition
    part_of: str
    quantity: int
    material: str
    crack_check: str
    surfaces: tuple[str, ...]
    calls_for: tuple[str, ...]
    flags: frozenset[str]
    goes_on_after: tuple[str, ...]
    out_of_reach_under: str  # the code of a subassembly, once that is on
    out_of_reach_when: Condition
    matched: str
    caution: str
    source: str


@dataclass(frozen=True, slots=True)
class Tables:
    subassemblies: tuple[SubassemblyTemplate, ...]
    order: tuple[OrderTemplate, ...]
    positions: tuple[PositionTemplate, ...]
    american: dict[str, str]
    dimensions: dict[str, tuple[NamedDimension, ...]]  # by the name of the place
    consumables: dict[str, tuple[NamedConsumable, ...]]  # likewise


@lru_cache
def tables(folder: Path = DATA) -> Tables:
    subassemblies = tuple(_subassembly(row) for row in _rows(folder / "subassemblies.csv"))
    codes = {template.code for template in subassemblies} | {""}
    order = tuple(_order(row, codes) for row in _rows(folder / "order.csv"))
    files = {path.stem: path for path in (folder / "positions").glob("*.csv")}
    positions = tuple(_position(row, codes) for _, path in sorted(files.items()) for row in _rows(path))
    for row in _rows(folder / "subassemblies.csv"):
        row.known("parent", (row["parent"],), codes)
    american = {row["british"]: row["american"] for row in _rows(folder / "american_words.csv")}
    names = {template.name for template in positions}
    dimensions = read_dimensions(_rows(folder / "dimensions.csv"), names)
    consumables = read_consumables(_rows(folder / "consumables.csv"), names)
    return Tables(subassemblies, order, positions, american, dimensions, consumables)


class _Row(dict[str, str]):
    """One line of a table, which knows where it stands."""

    where = ""

    def known(self, column: str, given: tuple[str, ...], words: Collection[str]) -> tuple[str, ...]:
        for word in given:
            if word not in words:
                raise TemplateError(
                    f"{self.where}, column {column}: “{word}” is not known; one of: {', '.join(sorted(words))}."
                )
        return given

    def listed(self, column: str) -> tuple[str, ...]:
        return tuple(word.strip() for word in self[column].split(",") if word.strip())

    def quantity(self) -> int:
        if not self["quantity"].isdecimal() or int(self["quantity"]) < 1:
            raise TemplateError(f"{self.where}, column quantity: write a whole number of at least 1.")
        return int(self["quantity"])

    def condition(self, column: str = "when") -> Condition:
        choices = [part.split(" or ") for part in self.listed(column)]
        tests = tuple(
            tuple((not word.startswith("not "), word.removeprefix("not ")) for word in part) for part in choices
        )
        self.known(column, tuple(fact for part in tests for _, fact in part), FACTS)
        return Condition(tests)

    def source(self) -> str:
        if not self["source"]:
            raise TemplateError(
                f"{self.where}, column source: it is blank; name the source, or “common practice, no source”."
            )
        return self["source"]


def _rows(path: Path) -> Iterator[_Row]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        reader = csv.DictReader(file, delimiter=";")
        for line in reader:
            where = f"{path.name} line {reader.line_num}"
            if None in line or None in line.values():
                raise TemplateError(f"{where}: it has not as many cells as the heading; check the semicolons.")
            row = _Row({column: cell.strip() for column, cell in line.items()})
            row.where = where
            yield row


def _subassembly(row: _Row) -> SubassemblyTemplate:
    scope = row.known("scope", row.listed("scope"), set(DIMENSIONS) - {"side", "cylinder", "rod"})
    return SubassemblyTemplate(
        code=row["code"], name=row["name"], parent=row["parent"], scope=scope, when=row.condition(),
        caution=row["caution"], source=row.source(),
    )  # fmt: skip


def _order(row: _Row, codes: set[str]) -> OrderTemplate:
    row.known("subassembly", (row["subassembly"],), codes)
    row.known("goes_on_after", (row["goes_on_after"],), codes)
    return OrderTemplate(
        subassembly=row["subassembly"], goes_on_after=row["goes_on_after"], when=row.condition(), source=row.source()
    )


def _position(row: _Row, codes: set[str]) -> PositionTemplate:
    if bool(row["crack_check"]) is not bool(row["surfaces"]):
        raise TemplateError(
            f"{row.where}, column surfaces: a crack check names the surfaces it must reach, and only a crack check."
        )
    return PositionTemplate(
        subassembly=row.known("subassembly", (row["subassembly"],), codes)[0],
        name=row["name"],
        scope=row.known("scope", row.listed("scope"), DIMENSIONS),
        end=row.listed("end"),
        when=row.condition(),
        part_of=row["part_of"],
        quantity=row.quantity(),
        material=row["material"],
        crack_check=row.known("crack_check", (row["crack_check"],), {"", *map(str, Method)})[0],
        surfaces=row.listed("surfaces"),
        calls_for=row.known("calls_for", row.listed("calls_for"), set(map(str, Kind))),
        flags=frozenset(row.known("flags", row.listed("flags"), FLAGS)),
        goes_on_after=row.known("goes_on_after", row.listed("goes_on_after"), codes),
        out_of_reach_under=row.known("out_of_reach_under", (row["out_of_reach_under"],), codes)[0],
        out_of_reach_when=row.condition("out_of_reach_when"),
        matched=row["matched"],
        caution=row["caution"],
        source=row.source(),
    )
