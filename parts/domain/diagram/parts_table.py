"""Which subassembly is which part of the drawing, as data: the tables under parts/data/diagram/."""

import csv
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from .engine import Engine, SubassemblyCounts

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


UNIT = re.compile(r"-(front|middle|rear)-engine\b")


def part_of(row: SubassemblyCounts, engine: Engine) -> str:
    """The part that a subassembly is, by its code or the longest beginning of it; blank where there is none.

    What an engine unit has for itself ends in that unit's name: wheelsets-front-engine is wheels.front. What lies
    inside is hidden behind what is outside, so beside outside cylinders it has no part.
    """
    return row.part or part_of_code(row.code, engine)


def part_of_code(code: str, engine: Engine) -> str:
    return _part_of(code, engine.outside_cylinders)


@lru_cache(maxsize=4096)
def _part_of(code: str, outside_cylinders: bool) -> str:
    unit = UNIT.search(code)
    words = UNIT.sub("", code).split("-")
    if outside_cylinders and "inside" in words:
        return ""
    known = parts_of_codes()
    codes = ("-".join(words[:n]) for n in range(len(words), 0, -1))
    part = next((known[code] for code in codes if code in known), "")
    return f"{part}.{unit[1]}" if part and unit else part


def base(part: str) -> str:
    """The part without the engine unit that it belongs to."""
    return part.partition(".")[0]


def named(part: str) -> str:
    """What a part is called: Front engine wheelsets."""
    name, unit = parts()[base(part)].name, part.partition(".")[2]
    return f"{unit.capitalize()} engine {name.lower()}" if unit else name


def sorted_out(
    rows: Iterable[SubassemblyCounts], drawn: Iterable[str], engine: Engine
) -> tuple[dict[str, list[SubassemblyCounts]], list[SubassemblyCounts]]:
    """The rows of each part that is drawn, and the rows that are not drawn anywhere.

    Rows that don't say which engine unit they belong to are those of the part without its unit.
    """
    drawn = set(drawn)
    known = drawn | {base(part) for part in drawn}
    found: dict[str, list[SubassemblyCounts]] = {}
    left: list[SubassemblyCounts] = []
    for row in rows:
        part = part_of(row, engine)
        shown = part if part in known else base(part)
        (found.setdefault(shown, []) if shown in known else left).append(row)
    return found, left


def shown_by(part: str, found: dict[str, list[SubassemblyCounts]]) -> str:
    """The part whose rows say how this one looks: itself, or the one it goes with; blank where nobody knows."""
    unit, at = part.partition(".")[2], base(part)
    while at:
        for candidate in (f"{at}.{unit}", at):
            if found.get(candidate):
                return candidate
        at = parts()[at].otherwise
    return ""
