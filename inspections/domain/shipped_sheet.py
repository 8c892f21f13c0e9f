"""The published sheet as rows to be stored: each clause once, least and most of a figure together, and two tables.

What the law sets is entered as the shop and as the scrapping limit, so that no concession moves it (sizing.py).
"""

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from .attaching import SPELT, How
from .exact import Number, exact
from .lengths import parse_length
from .limit_sheets import EDITION, JURISDICTION, SOURCE, SheetRow, rows
from .tables import rows as table_rows

NAME = "Steam locomotive limits of 49 CFR Part 230"
__all__ = ["EDITION", "NAME", "SOURCE", "JURISDICTION", "axle_band", "shipped_rows", "size_name", "tire_band"]

AXLE = "tender axle"
TIRE = "driving or trailing tire"
RINGS = "Where retaining rings are used the clause allows less, under conditions of its own."
OVER_6_IN = "230.98(a)(7)"
"""The clause that is for axles with an original diameter over 6 in."""


Fields = dict[str, Any]


def shipped_rows() -> list[Fields]:
    """The fields of every row, in the order of the clauses with the tables last."""
    return [*_single_rows(), *_axle_rows(), *_tire_rows()]


def _single_rows() -> Iterator[Fields]:
    waiting: dict[str, SheetRow] = {}
    for row in rows():
        stem, _, end = row.item.rpartition(", ")
        if end == "least":
            waiting[stem] = row
        elif end == "most":
            least = waiting.pop(stem)
            if least.is_open or row.is_open:
                raise ValueError(f"{stem}: a limit that itself fails is not kept for two sides.")
            yield _fields(row, stem, lower=least.value_mm, upper=row.value_mm, note=_joined(least.note, row.note))
        else:
            yield _fields(row, row.item, **{row.side: row.value_mm}, note=row.note)
    if waiting:
        raise ValueError(f"No most for {', '.join(waiting)}.")


def _joined(*notes: str) -> str:
    return " ".join(dict.fromkeys(filter(None, notes)))


def _fields(
    row: SheetRow, item: str, *, note: str, lower: Fraction | None = None, upper: Fraction | None = None
) -> Fields:
    how = _how(row)
    if how in (How.LOSS, How.BELOW_GAUGE):
        note = ""  # said how to reckon by hand what is reckoned where the row is given to a place
    either = lower is not None and upper is not None
    wears = "either" if either else "smaller" if lower is not None or how is How.LOSS else "larger"
    return {
        "clause": row.clause, "applies_to": row.applies_to, "item": item, "kind": how.value, "unit": row.unit,
        "wears": wears, "note": note, "shop_open": row.is_open, "scrapping_open": row.is_open,
        "shop_lower": lower, "scrapping_lower": lower, "shop_upper": upper, "scrapping_upper": upper,
    }  # fmt: skip


def _how(row: SheetRow) -> How:
    if row.kind == "size below track gage":
        return How.BELOW_GAUGE
    if row.kind == "wear" and "loss from original" in row.item:
        return How.LOSS
    if row.item.startswith("flange chip"):
        return How.TOGETHER
    return How(row.kind)


def _axle_rows() -> Iterator[Fields]:
    figures = (("journal_min_in", "journal"), ("wheel_seat_min_in", "wheel seat"), ("centre_min_in", "centre"))
    for line in sorted(table_rows("us_49cfr230_99_tender_axles"), key=lambda line: int(line["axle_load_lb_up_to"])):
        for column, name in figures:
            item = f"{name} diameter, axle load to {line['axle_load_lb_up_to']} lb"
            yield _least("230.99", AXLE, item, parse_length(f"{line[column]} in"))


def _tire_rows() -> Iterator[Fields]:
    for line in table_rows("us_49cfr230_112_tire_thickness"):
        for band in _centres(line):
            item = f"tire thickness, {line['lb_per_axle']} lb on an axle, wheel {_centre(band)} in"
            yield _least("230.112(d)", TIRE, item, parse_length(f"{line[band]} in"), RINGS)


def _centres(line: dict[str, str]) -> list[str]:
    return [name for name in line if name.startswith(("centre ", "over "))]


def _centre(band: str) -> str:
    return band if band.startswith("centre") else f"centre {band}"


def _least(clause: str, applies_to: str, item: str, value: Fraction, note: str = "") -> Fields:
    return {
        "clause": clause, "applies_to": applies_to, "item": item, "kind": How.SIZE.value, "unit": "in",
        "wears": "smaller", "note": note, "shop_lower": value, "scrapping_lower": value,
        "shop_open": False, "scrapping_open": False,
    }  # fmt: skip


def size_name(item: str, applies_to: str, how: str = How.SIZE, *, british: bool = False) -> str:
    """What is measured, by the item of a row: of `tire thickness, to 30000 lb …` the tire thickness, and where the loss
    from the original diameter of an axle journal is limited, the journal diameter; `british` spells it tyre."""
    if how == How.LOSS:
        return f"{applies_to.split()[-1]} diameter"
    name = re.sub(r"(, (axle load )?(to|over) \d+.* lb.*|: track gage minus)$", "", item)
    for american, ours in SPELT.items() if british else ():
        name = re.sub(rf"\b{american}", ours, name)
    return name


def axle_band(load_lb: Number) -> str:
    """The end of the items that hold for a load on one axle of a tender truck (230.99)."""
    load = _positive(load_lb, "The load on an axle")
    ends = sorted(int(line["axle_load_lb_up_to"]) for line in table_rows("us_49cfr230_99_tender_axles"))
    for end in ends:
        if load <= end:
            return f", axle load to {end} lb"
    raise ValueError(f"The table of 49 CFR 230.99 ends at {ends[-1]} lb on an axle: check the axle load.")


def tire_band(load_lb: Number, centre_in: Number) -> str:
    """The end of the item that holds for a load on one axle and a diameter of the wheel centre (230.112(d))."""
    load, centre = _positive(load_lb, "The load on an axle"), _positive(centre_in, "The diameter of the wheel centre")
    table = table_rows("us_49cfr230_112_tire_thickness")
    line = next(line for line in table if _within(load, line["lb_per_axle"]))
    band = next(band for band in _centres(line) if _within(centre, band))
    return f", {line['lb_per_axle']} lb on an axle, wheel {_centre(band)} in"


def _positive(value: Number, name: str) -> Fraction:
    number = exact(value, name)
    if number <= 0:
        raise ValueError(f"{name} must be above zero.")
    return number


def _within(value: Fraction, words: str) -> bool:
    over, to = re.search(r"over (\d+)", words), re.search(r"to (\d+)", words)
    return (over is None or value > int(over[1])) and (to is None or value <= int(to[1]))
