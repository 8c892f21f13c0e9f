"""Ways of mending an old piece: what is said before the work, and what must be looked at after it. Common practice, no
source: the competent person and the local code decide."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from .job_words import RepairMethod

FILE = Path(__file__).resolve().parent.parent / "data" / "repair_methods.csv"


@dataclass(frozen=True, slots=True)
class MethodNotes:
    caution: str
    look_at: str


@cache
def table() -> dict[RepairMethod, MethodNotes]:
    with FILE.open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file, delimiter=";")
        return {RepairMethod(row["method"]): MethodNotes(row["caution"], row["look_at"]) for row in rows}


def notes_on(method: str) -> MethodNotes:
    return table()[RepairMethod(method)]


def look_at_after(method: str) -> str:
    """'After “re-metal” look at: the bond …'"""
    return f"After “{method}” look at: {notes_on(method).look_at}."
