"""How far a locomotive has come over time, and what was spent on it, as areas and columns in the units of a picture."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

LEFT, RIGHT, TOP, FOOT = 48, 600, 14, 214
"""The drawing stands between these; words stand outside, in a picture of 720 by 240."""
APART = 17
"""Words beneath each other take so much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """How many were refitted, and how many more accepted or renewed, at the end of a day."""

    day: date
    refitted: int
    accepted: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleMark:
    """Words at a height of the scale or at a day, in whole units."""

    at: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Curves:
    solid: str  # a path: up to what was refitted
    hatched: str  # a path: from there up to what was accepted
    scale: list[ScaleMark]
    months: list[ScaleMark]
    ends: list[ScaleMark]  # how it stands on the last day, beside the curves


def curves(stood: Sequence[Stood], required: int) -> Curves:
    """Of at least two days. The scale goes from none to all that are required."""
    top = max([required, *(one.refitted + one.accepted for one in stood)]) or 1
    across = [round(LEFT + (RIGHT - LEFT) * n / (len(stood) - 1)) for n in range(len(stood))]
    refitted = [_height(one.refitted, top) for one in stood]
    both = [_height(one.refitted + one.accepted, top) for one in stood]
    last = stood[-1]
    return Curves(
        solid=_area(across, refitted, [FOOT] * len(stood)),
        hatched=_area(across, both, refitted),
        scale=[ScaleMark(at=_height(number, top), words=str(number)) for number in range(0, top + 1, step(top))],
        months=[
            ScaleMark(at=x, words=f"{now.day:%b}")
            for x, before, now in zip(across[1:], stood, stood[1:], strict=False)
            if before.day.month != now.day.month
        ],
        ends=_spread(
            [
                ScaleMark(at=refitted[-1], words=f"{last.refitted} refitted"),
                ScaleMark(at=both[-1], words=f"{last.accepted} accepted"),
                ScaleMark(at=_height(required, top), words=f"{required} in all"),
            ]
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthColumn:
    """One month: what was ordered in outline, what was paid solid within it; each a top and a height."""

    x: int
    words: str
    ordered: tuple[int, int]
    paid: tuple[int, int]


def columns(months: Sequence[tuple[date, Decimal, Decimal]]) -> tuple[list[MonthColumn], list[ScaleMark]]:
    """The columns, and the scale beside them. An order that was taken back shows as none; the table tells it."""
    top = int(max((max(ordered, paid) for _, ordered, paid in months), default=0)) or 1
    wide = (RIGHT - LEFT) / max(len(months), 1)

    def bar(sum_: Decimal) -> tuple[int, int]:
        high = _height(max(sum_, Decimal(0)), top)
        return high, FOOT - high

    drawn = [
        MonthColumn(x=round(LEFT + wide * n + wide / 4), words=f"{first:%b}", ordered=bar(ordered), paid=bar(paid))
        for n, (first, ordered, paid) in enumerate(months)
    ]
    return drawn, [ScaleMark(at=_height(sum_, top), words=f"{sum_:,}") for sum_ in range(0, top + 1, step(top))]


def step(top: int) -> int:
    """A round step that gives the scale two to five lines above none.

    >>> step(624), step(37), step(4), step(1)
    (200, 10, 1, 1)
    """
    rough = max(top // 4, 1)
    power: int = 10 ** (len(str(rough)) - 1)
    return next(power * by for by in (1, 2, 5, 10) if power * by >= rough)


def _height(number: int | Decimal, top: int) -> int:
    return round(FOOT - (FOOT - TOP) * number / top)


def _area(across: Sequence[int], upper: Sequence[int], lower: Sequence[int]) -> str:
    there = [f"{x} {y}" for x, y in zip(across, upper, strict=True)]
    back = [f"{x} {y}" for x, y in reversed(list(zip(across, lower, strict=True)))]
    return f"M{'L'.join(there + back)}Z"


def _spread(marks: list[ScaleMark]) -> list[ScaleMark]:
    """From the foot up, each at least its own height above the one beneath."""
    spread: list[ScaleMark] = []
    for mark in marks:
        at = min(mark.at, spread[-1].at - APART) if spread else mark.at
        spread.append(ScaleMark(at=at, words=mark.words))
    return spread
