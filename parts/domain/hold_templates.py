"""Templates of hold points that are usually set together. What applies, the competent person and the local code decide.

Common practice, no source: the usual run of a new or rebuilt pressure vessel, and the survey before old lagging is
touched. What a row cites of a country's rules is from memory.
"""

import csv
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path

FILE = Path(__file__).resolve().parent.parent / "data" / "hold_templates.csv"

STARTING = (
    "A starting list. Which of these apply, the competent person and the local code decide; the inspecting body may "
    "ask for more."
)
SAYS = {
    "pressure vessel": (
        "A new or rebuilt pressure vessel",
        "Which of these apply, the competent person and the local code decide; the inspecting body may ask for more.",
    ),
    "asbestos": (
        "What may be poisonous: lagging, cladding, old joints and packings",
        "Who may survey and who may remove it, the competent person and the local code decide.",
    ),
    "united kingdom boiler": ("A boiler in the United Kingdom", STARTING),
    "united states boiler": ("A boiler in the United States", STARTING),
    "continental boiler": ("A boiler in Continental Europe", STARTING),
    "other boiler": ("A boiler anywhere else", STARTING),
}


class Regime(StrEnum):
    """Whose rules a boiler is under, as far as hold points are set for it at the start."""

    UNITED_KINGDOM = "United Kingdom"
    UNITED_STATES = "United States"
    CONTINENTAL = "Continental"
    OTHER = "other"
    NONE = "none yet"

    @property
    def template(self) -> "Template | None":
        return templates().get(f"{self.lower()} boiler")


BOILERS = ("boiler", "reservoir")
"""Subassemblies that the rules of a boiler are for, by their codes."""
CLADDING = "cladding"
OLD_JOINTS = (
    "lagging", "dome cover", "cylinder cover", "steam chest cover", "smokebox door", "manhole door", "mudhole door",
    "main steam pipe", "superheater elements", "piston rod gland", "valve spindle gland", "regulator gland",
    "firehole door",
)  # fmt: skip
"""Where an old joint or packing may hold asbestos, besides the cladding, by the end of a place's name: the old joint
is broken when that comes off. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class TemplateHold:
    number: int
    on: str  # "it", "after" (what goes on only after its tests), "overhaul"
    name: str
    body_kind: str
    stops: tuple[str, ...]
    must_show: str
    lapses: bool

    key: str

    @property
    def slug(self) -> str:
        """As an address names it."""
        return f"{self.key.replace(' ', '-')}-{self.number}"


@dataclass(frozen=True, slots=True)
class Template:
    key: str
    name: str
    says: str
    lines: tuple[TemplateHold, ...]

    @property
    def wants_after(self) -> bool:
        return any(line.on == "after" for line in self.lines)


@cache
def templates() -> dict[str, Template]:
    """Every template under its key, in the order of the file."""
    lines: dict[str, list[TemplateHold]] = {}
    with FILE.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            lines.setdefault(row["key"], []).append(
                TemplateHold(
                    number=int(row["number"]),
                    on=row["on"],
                    name=row["name"],
                    body_kind=row["body_kind"],
                    stops=tuple(stop.strip() for stop in row["stops"].split(";")),
                    must_show=row["must_show"],
                    lapses=row["lapses"] == "yes",
                    key=row["key"],
                )
            )
    return {key: Template(key, *SAYS[key], tuple(found)) for key, found in lines.items()}


def every_line() -> dict[str, TemplateHold]:
    """The lines of all templates under their slugs, each of which may be set on a single step."""
    return {line.slug: line for template in templates().values() for line in template.lines}
