"""The routes to a new piece that are supplied: which steps, in which order, and the papers that a step brings.

Common practice, no source: every works takes its own, so each can be edited on the screen and in the renewal itself.
"""

import csv
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from core.domain.refusals import Refusal

FILE = Path(__file__).parent.parent / "data" / "routes.csv"
MOST_STEPS = 30
LONGEST = 120
LONGEST_PAPERS = 300


@dataclass(frozen=True, kw_only=True)
class Route:
    key: str
    name: str
    says: str = ""
    steps: tuple[tuple[str, str], ...] = ()  # what is done, and the papers that it brings


@cache
def supplied() -> dict[str, Route]:
    """Every route of the file, by its key, in the order of the file."""
    found: dict[str, list[dict[str, str]]] = {}
    with FILE.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter=";"):
            found.setdefault(row["route"], []).append(row)
    return {
        key: Route(
            key=key,
            name=lines[0]["name"],
            says=lines[0]["says"],
            steps=tuple((line["step"], line["papers"]) for line in lines),
        )
        for key, lines in found.items()
    }


def written(steps: Iterable[tuple[str, str]]) -> str:
    """The steps as lines to edit: "cast it | material certificate"."""
    return "\n".join(f"{step} | {papers}" if papers else step for step, papers in steps)


def read(text: str) -> tuple[tuple[str, str], ...]:
    """The steps of lines that somebody edited; empty lines are nothing."""
    lines = [line.partition("|") for line in text.splitlines()]
    return tuple((_tidy(step), _tidy(papers)) for step, _, papers in lines if _tidy(step) or _tidy(papers))


def _tidy(text: str) -> str:
    return " ".join(text.split())


def troubles(name: str, steps: Sequence[tuple[str, str]]) -> list[Refusal]:
    """Why a route may not be kept like this."""
    found = []
    if not name.strip():
        found.append(Refusal("name", "Name: nothing was written.", "Name the route in a few words."))
    if not steps:
        found.append(Refusal("steps", "Steps: none was written.", "Write one step in each line."))
    if len(steps) > MOST_STEPS:
        found.append(Refusal("steps", f"Steps: {len(steps)} of them.", f"Write {MOST_STEPS} at most."))
    for number, (step, papers) in enumerate(steps, 1):
        if not step:
            found.append(Refusal("steps", f"Steps: line {number} names papers but no step.", "Say what is done."))
        if len(step) > LONGEST or len(papers) > LONGEST_PAPERS:
            found.append(Refusal("steps", f"Steps: line {number} is too long.", "Say it in fewer words."))
    return found
