"""Limits as published sheets give them, clause by clause. The one that ships is United States law, 49 CFR Part 230.

Its words are kept (gage, tire). It is law there and nowhere else: elsewhere it is a useful set of limits and no more.
Each row says how it treats the value exactly on the limit: "at or over" is open (that value fails), "over" is closed.

A clearance, a wear or a difference that is limited from above has the side "upper"; a size with a least value "lower".
Wear is a loss from the original size, so it is measured as original less found. The wheel gage of a track narrower than
standard is limited as track gage less wheel gage: those rows say so in their note.

A railway's own sheet is read by own_sheets.read_sheet.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from .exact import Number, exact
from .lengths import parse_length
from .own_sheets import SheetLine, Trouble, read_sheet
from .tables import rows as table_rows
from .verdicts import Outcome, Rule, judge

__all__ = [
    "EDITION", "SOURCE", "JURISDICTION", "SheetLine", "SheetRow", "TenderAxle", "Trouble", "read_sheet", "rows",
    "tender_axle", "tire_thickness_mm",
]  # fmt: skip

SOURCE = "United States, 49 CFR Part 230"
EDITION = "second reading of stored copies, some clauses from memory"
JURISDICTION = (
    "United States law: compare it with the law in force. Elsewhere a useful published set of limits, and no rule."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRow:
    """One limit of a sheet. `is_open`: the value exactly on it fails."""

    clause: str
    item: str
    applies_to: str
    kind: str
    value_mm: Fraction
    side: str  # "lower" or "upper"
    is_open: bool
    unit: str = "in"
    note: str = ""

    def judge(self, value_mm: Number, uncertainty_mm: Number = 0, rule: str = Rule.GUARDED) -> Outcome:
        """For wear, the value is what was lost from the original size."""
        limit: dict[str, Any] = {self.side: self.value_mm, f"{self.side}_open": self.is_open}
        return judge(value_mm, uncertainty=uncertainty_mm, rule=rule, **limit)


def rows() -> list[SheetRow]:
    """Every single limit of the published sheet. The two tables by load have their functions below."""
    return [_row(row) for row in table_rows("us_49cfr230_limits")]


NOTES = {
    "over, both": "A chip fails when its length and its width are both over their limits, and not otherwise.",
    "gage under track gage less this": "Judge track gage less wheel gage: over this, the wheels are too near together.",
    "gage over track gage less this": "Judge track gage less wheel gage: under this, the wheels are too far apart.",
}
MEMORY_NOTE = "From memory: no copy was read, so read the clause before you rely on it."
WEAR_NOTE = "Judge the loss: the original size less the size found."


def _row(row: dict[str, str]) -> SheetRow:
    words = row["fails_when"]
    side = "lower" if words in ("under", "at or under", "gage over track gage less this") else "upper"
    return SheetRow(
        clause=row["clause"],
        item=row["item"],
        applies_to=row["applies_to"],
        kind=row["kind"],
        value_mm=parse_length(f"{row['value_in']} in"),
        side=side,
        is_open=words.startswith("at or"),
        note=" ".join(filter(None, (_note(row), MEMORY_NOTE if row["source"].endswith("(from memory)") else ""))),
    )


def _note(row: dict[str, str]) -> str:
    is_loss = row["kind"] == "wear" and "loss" in row["item"]
    return NOTES.get(row["fails_when"], WEAR_NOTE if is_loss else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class TenderAxle:
    """The least diameters of a tender truck axle. A size exactly on its least is enough."""

    load_lb_up_to: int
    journal_mm: Fraction
    wheel_seat_mm: Fraction
    centre_mm: Fraction
    clause: str = "230.99"


def tender_axle(axle_load_lb: Number) -> TenderAxle:
    """The least diameters for a load on one axle: the row of the next load up. A load exactly on a row is that row's.

    The table says "for various axle loads" and ends at 50,000 lb: a heavier load is a ValueError.
    """
    load = _load(axle_load_lb)
    table = sorted(
        (
            TenderAxle(
                load_lb_up_to=int(row["axle_load_lb_up_to"]),
                journal_mm=parse_length(f"{row['journal_min_in']} in"),
                wheel_seat_mm=parse_length(f"{row['wheel_seat_min_in']} in"),
                centre_mm=parse_length(f"{row['centre_min_in']} in"),
            )
            for row in table_rows("us_49cfr230_99_tender_axles")
        ),
        key=lambda axle: axle.load_lb_up_to,
    )
    for axle in table:
        if load <= axle.load_lb_up_to:
            return axle
    raise ValueError(
        f"The table of 49 CFR 230.99 ends at {table[-1].load_lb_up_to} lb on an axle: check the axle load."
    )


def tire_thickness_mm(load_per_axle_lb: Number, wheel_centre_diameter_in: Number) -> Fraction:
    """The least thickness of a driving or trailing tire (230.112(d)). Thinner fails, exactly that is enough.

    The load is the weight on drivers over the number of pairs of driving wheels. Where retaining rings are used the
    clause allows less, under conditions of its own that are not worked out here. A load or a diameter exactly on the
    end of a band belongs to the lower one ("to 30000", "over 30000 to 35000").
    """
    load = _load(load_per_axle_lb)
    diameter = exact(wheel_centre_diameter_in, "The diameter of the wheel centre")
    if diameter <= 0:
        raise ValueError("The diameter of the wheel centre must be above zero, in inches.")
    table = table_rows("us_49cfr230_112_tire_thickness")
    row = next(row for row in table if _in_band(load, row["lb_per_axle"]))
    bands = [name for name in row if name.startswith(("centre ", "over "))]
    band = next(name for name in bands if _in_band(diameter, name))
    return parse_length(f"{row[band]} in")


def _load(load_lb: Number) -> Fraction:
    load = exact(load_lb, "The load on an axle")
    if load <= 0:
        raise ValueError("The load on an axle must be above zero, in pounds.")
    return load


def _in_band(value: Fraction, words: str) -> bool:
    """Whether a value lies in `to 30000`, `centre to 44`, `over 44 to 50` or `over 74`."""
    over, to = re.search(r"over (\d+)", words), re.search(r"to (\d+)", words)
    return (over is None or value > int(over[1])) and (to is None or value <= int(to[1]))
