"""A size over the years: the geometry of its chart. Every reading on its day, the limits as lines across.

In proportion on both axes, in the unit of the drawing. One piece is marked: its readings are filled and joined by a
line, those of other pieces that were in the same place are hollow squares. Each point carries its number in the table
beneath. Pixels are rounded to tenths; the exact sizes stand in the table.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from .limits import Limits
from .size_picture import CHARACTER, figure, named_limits
from .two_units import MM, in_unit

HEIGHT, TOP, BOTTOM, RIGHT = 280, 16, 30, 12
MOST_STEPS = 6
LABEL_GAP = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartPoint:
    """One measurement: when, the worst reading and its uncertainty in mm, and whether it is of the piece marked."""

    on: date
    value: Fraction
    guard: Fraction = Fraction(0)
    mine: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    x: float
    y: float
    guard: tuple[float, float] | None  # from top to foot
    mine: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLine:
    """A line across, with its words: a limit, or a step of the scale."""

    y: float
    words: str
    words_y: float
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    x: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    width: int
    height: int
    left: float
    right: float
    foot: int
    points: tuple[Point, ...]
    run: str  # through the readings of the piece that is marked
    limits: tuple[ChartLine, ...]
    scale: tuple[ChartLine, ...]
    years: tuple[Year, ...]


def chart(taken: Sequence[ChartPoint], limits: Limits, *, width: int = 316) -> Chart | None:
    """None where nothing was measured. The limits are those that hold now."""
    if not taken:
        return None
    unit = limits.unit
    named = list(named_limits(limits))
    low, high = _span([size for one in taken for size in (one.value - one.guard, one.value + one.guard)]
                      + [at for at, _ in named])  # fmt: skip
    steps = [mm for mm in _steps(low, high, unit) if low <= mm <= high]
    words = [_plain(mm, unit) for mm in steps]
    left = round(max((len(word) for word in words), default=0) * float(CHARACTER) + 8, 1)
    first, last = _days(taken)

    def x(day: date) -> float:
        return round(left + 8 + (day.toordinal() - first) * (width - RIGHT - 8 - left - 8) / (last - first), 1)

    def y(mm: Fraction) -> float:
        return round(float(TOP + (high - mm) * (HEIGHT - TOP - BOTTOM) / (high - low)), 1)

    points = tuple(
        Point(x=x(one.on), y=y(one.value), guard=(y(one.value + one.guard), y(one.value - one.guard))
              if one.guard else None, mine=one.mine)
        for one in taken
    )  # fmt: skip
    return Chart(
        width=width,
        height=HEIGHT,
        left=left,
        right=width - RIGHT,
        foot=HEIGHT - BOTTOM,
        points=points,
        run=" ".join(f"{point.x},{point.y}" for point in points if point.mine),
        limits=tuple(_labelled(named, y, unit)),
        scale=tuple(ChartLine(y=y(mm), words=word, words_y=y(mm) + 4) for mm, word in zip(steps, words, strict=True)),
        years=tuple(_years(first, last, x, width)),
    )


def _span(sizes: list[Fraction]) -> tuple[Fraction, Fraction]:
    low, high = min(sizes), max(sizes)
    room = (high - low) / 12 or max(abs(high) / 100, Fraction(1, 10))
    return low - room, high + room


def _steps(low: Fraction, high: Fraction, unit: str) -> list[Fraction]:
    """Round figures of the drawing's unit, a few of them."""
    one = MM[unit]
    step = Fraction(1)
    while (high - low) / one / step > MOST_STEPS:
        step *= 10
    while (high - low) / one / step < MOST_STEPS:
        step /= 10
    step = next(step * times for times in (1, 2, 5, 10) if (high - low) / one / (step * times) <= MOST_STEPS)
    at = -(-low // (step * one))
    found = []
    while at * step * one <= high:
        found.append(at * step * one)
        at += 1
    return found


def _plain(mm: Fraction, unit: str) -> str:
    return in_unit(mm, unit, 9)


def _days(taken: Sequence[ChartPoint]) -> tuple[int, int]:
    days = [one.on.toordinal() for one in taken]
    first, last = min(days), max(days)
    return (first, last) if last - first >= 60 else (first - 180, last + 180)


def _labelled(named: Iterable[tuple[Fraction, str]], y: Callable[[Fraction], float], unit: str) -> Iterator[ChartLine]:
    """Limits with their words above the line, moved apart where two would stand on each other."""
    called: dict[Fraction, list[str]] = {}
    for at, name in named:
        called.setdefault(at, []).append(name)
    above = -float(LABEL_GAP)
    for at in sorted(called, reverse=True):
        words_y = max(y(at) - 4, above + LABEL_GAP)
        above = words_y
        words = f"{' and '.join(called[at])} {figure(at, unit)}"
        yield ChartLine(y=y(at), words=words, words_y=round(words_y, 1), kind=called[at][-1])


def _years(first: int, last: int, x: Callable[[date], float], width: int) -> Iterator[Year]:
    """First days of years, so many as have room; of a time that holds no two of them, the months at its ends."""
    begin, end = date.fromordinal(max(first, 1)), date.fromordinal(last)
    years = [year for year in range(begin.year, end.year + 2) if first <= date(year, 1, 1).toordinal() <= last]
    if len(years) < 2:
        yield from _months(first, last, x, width)
        return
    every = -(-len(years) * 44 // max(width - 80, 1)) or 1
    every = next((n for n in (1, 2, 5, 10, 20, 50, 100) if n >= every), every)
    for year in years:
        if year % every == 0:
            yield Year(x=x(date(year, 1, 1)), words=str(year))


def _months(first: int, last: int, x: Callable[[date], float], width: int) -> Iterator[Year]:
    room = float(CHARACTER) * len("May 2026")
    days = [day for day in map(date.fromordinal, range(first, last + 1)) if day.day == 1]
    days = [day for day in days if x(day) + room / 2 <= width]
    ends = [days[0], days[-1]] if days and x(days[-1]) - x(days[0]) >= room else days[:1]
    for day in ends:
        yield Year(x=x(day), words=f"{day:%b %Y}")
