"""The published tables this package stands on: one CSV file each in inspections/data/, a source in every row."""

import csv
from functools import cache
from pathlib import Path

DATA = Path(__file__).resolve().parent.parent / "data"


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of one table, as texts: whoever uses them says what each column means."""
    with open(DATA / f"{name}.csv", encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))
