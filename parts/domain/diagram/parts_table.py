"""Which subassembly is which part of the drawing, as data: the tables under parts/data/diagram/."""

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from .engine import Engine, Row

DATA = Path(__file__).resolve().parents[2] / "data" / "diagram"


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the drawing: its name, its zone on a phone, and the part it goes with where a structure has no rows."""

    key: str
    name: str
    zone: str  # front, middle, rear
    otherwise: str


@lru_cache
def parts() -> dict[str, Part]:
    return {row["part"]: Part(row["part"], row["name"], row["zone"], row["else"]) for row in _rows("parts.csv")}


@lru_cache
def parts_of_codes() -> dict[str, str]:
    return {row["code"]: row["part"] for row in _rows("subassemblies.csv")}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file, delimiter=";"))


def part_of(row: Row, engine: Engine) -> str:
    """The part that a subassembly is, by its code or the longest beginning of it; blank where there is none.

    What lies inside is hidden behind what is outside, so beside outside cylinders it has no part.
    """
    if row.part:
        return row.part
    if engine.outside_cylinders and row.code.endswith("-inside"):
        return ""
    known, words = parts_of_codes(), row.code.split("-")
    codes = ("-".join(words[:n]) for n in range(len(words), 0, -1))
    return next((known[code] for code in codes if code in known), "")


def sorted_out(rows: Iterable[Row], drawn: Iterable[str], engine: Engine) -> tuple[dict[str, list[Row]], list[Row]]:
    """The rows of each part that is drawn, and the rows that are not drawn anywhere."""
    found: dict[str, list[Row]] = {key: [] for key in drawn}
    left = []
    for row in rows:
        found.get(part_of(row, engine), left).append(row)
    return found, left


def shown_by(part: str, found: dict[str, list[Row]]) -> str:
    """The part whose rows say how this one looks: itself, or the one it goes with; blank where nobody knows."""
    table = parts()
    while part and not found.get(part):
        part = table[part].otherwise
    return part
