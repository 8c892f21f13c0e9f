"""Where a size stands between new, the shop limit and the scrapping limit: the geometry of the picture beside it.

Along a straight scale in proportion. How good a stretch is, is told by its thickness, and only then by its colour: the
drawing's tolerance is the thickest, within the shop limit less so, within the scrapping limit thin, beyond it a broken
line. A size far off the limits is drawn at the edge with an arrow: otherwise a slip of the pen would squeeze the limits
into one line. Pixels are rounded to tenths; the exact sizes are in the sentence beside the picture.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from .classes import Band
from .limit_words import limits_in_words
from .limits import Limits
from .two_units import in_unit

WIDTH = 316
SMALL_WIDTH = 150
MARGIN = Fraction(12, 100)  # of the span, on either side of what is drawn
FAR = Fraction(6, 10)  # of the span of the limits: a size farther off is drawn at the edge
THINNEST = 3  # pixels
CHARACTER = Fraction(79, 10)  # the width of one in a label, in pixels
ROW = 18  # the height of a row of labels
SCALE_TOP, SCALE = 34, 48  # the top of the thickest stretch, and the middle of the scale
THICK = {"new": 28, "shop": 16, "scrapping": 6, "beyond": 0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of the scale that is of one class. `beyond` is drawn as a broken line."""

    kind: str
    x: float
    width: float
    y: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitMark:
    """A limit: its line down to its label."""

    x: float
    to: float
    text: str
    text_x: float
    text_y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SizePicture:
    width: int
    height: float
    middle: float
    stretches: tuple[Stretch, ...]
    marks: tuple[LimitMark, ...]
    at: float | None  # the worst reading
    off: str  # "left" or "right" where it is too far off to be drawn to scale
    arrow: str  # the points of the arrow that shows it
    guard: tuple[float, float] | None  # from value - U to value + U
    others: tuple[float, ...]  # the other readings
    label: str
    label_x: float
    words: str  # the same in words


def picture(
    limits: Limits,
    value: Fraction | None = None,
    guard: Fraction = Fraction(0),
    others: Iterable[Fraction] = (),
    *,
    small: bool = False,
) -> SizePicture | None:
    """None where there is no limit to draw. `value` is the worst reading in mm, `guard` its uncertainty."""
    named = list(named_limits(limits))
    if not named:
        return None
    others = [size for size in others if size != value]
    scale = SizeScale.over([at for at, _ in named], value, guard, others, SMALL_WIDTH if small else WIDTH)
    middle = 14 if small else SCALE
    marks = () if small else tuple(_marks(named, scale, limits.unit))
    rows = max((mark.text_y for mark in marks), default=0)
    label = _value_words(value, guard, limits.unit)
    at, off = (None, "") if value is None else (scale.at(value), scale.off(value))
    return SizePicture(
        width=scale.width,
        height=28 if small else rows + 7,
        middle=middle,
        stretches=tuple(_stretches(limits, named, scale, middle, 2 if small else 1)),
        marks=marks,
        at=at,
        off=off,
        arrow="" if at is None else _arrow(at, off, middle, small),
        guard=_guard(value, guard, scale),
        others=tuple(scale.at(size) for size in sorted(set(others)) if not scale.off(size)),
        label=label,
        label_x=0 if at is None else _kept_inside(at, label, scale.width, 9.8),
        words=_in_words(limits, label),
    )


@dataclass(frozen=True, slots=True)
class SizeScale:
    low: Fraction
    high: Fraction
    width: int

    @classmethod
    def over(
        cls,
        limits: Sequence[Fraction],
        value: Fraction | None,
        guard: Fraction,
        others: Iterable[Fraction],
        width: int,
    ) -> "SizeScale":
        low, high = min(limits), max(limits)
        span = high - low or max(abs(high) / 100, Fraction(1, 10))
        wanted = [] if value is None else [value - guard, value + guard, *others]
        near = [size for size in wanted if low - FAR * span <= size <= high + FAR * span]
        if high == low and value is not None:  # one limit says nothing of what is far
            near = [size for size in wanted if abs(size - low) <= max(abs(low) / 4, 6 * guard)]
        low, high = min([low, *near]), max([high, *near])
        span = high - low or span
        return cls(low - MARGIN * span, high + MARGIN * span, width)

    def at(self, size: Fraction) -> float:
        """Pixels from the left, kept on the picture."""
        x = (size - self.low) * self.width / (self.high - self.low)
        return float(round(min(max(x, Fraction(0)), Fraction(self.width)), 1))

    def off(self, size: Fraction) -> str:
        return "left" if size < self.low else "right" if size > self.high else ""


def named_limits(limits: Limits) -> Iterator[tuple[Fraction, str]]:
    """Every limit that is set, and what it is called."""
    for name in ("new", "shop", "scrapping"):
        for side in ("lower", "upper"):
            at = getattr(limits, f"{name}_{side}")
            if at is not None:
                yield at, name


Named = Iterable[tuple[Fraction, str]]
"""Limits, and what each is called."""


def _stretches(limits: Limits, named: Named, scale: SizeScale, middle: int, shrink: int) -> Iterator[Stretch]:
    edges = [scale.low, *sorted({at for at, _ in named}), scale.high]
    for left, right in zip(edges, edges[1:], strict=False):
        kind = _kind((left + right) / 2, limits)
        x, end = scale.at(left), scale.at(right)
        width = max(round(end - x, 1), THINNEST if kind == "new" else 0.1)
        height = THICK[kind] / shrink
        yield Stretch(kind=kind, x=x, width=width, y=middle - height / 2, height=height)


def _kind(size: Fraction, limits: Limits) -> str:
    bands = (("new", limits.as_new), ("shop", limits.service), ("scrapping", limits.scrapping))
    return next((name for name, band in bands if band and _inside(size, band)), "beyond")


def _inside(size: Fraction, band: Band) -> bool:
    return (band.lower is None or size > band.lower) and (band.upper is None or size < band.upper)


def _marks(named: Named, scale: SizeScale, unit: str) -> Iterator[LimitMark]:
    """Labels under the scale, each in the first row where it has room."""
    called: dict[Fraction, list[str]] = {}
    for at, name in named:
        called.setdefault(at, []).append(name)
    ends: list[float] = []
    for at in sorted(called):
        text = f"{' and '.join(called[at])} {figure(at, unit)}"
        x = scale.at(at)
        text_x, half = _kept_inside(x, text, scale.width), float(CHARACTER) * len(text) / 2
        row = next((n for n, end in enumerate(ends) if end + 6 <= text_x - half), len(ends))
        ends[row : row + 1] = [text_x + half]
        text_y = SCALE + THICK["new"] / 2 + ROW * (row + 1)
        yield LimitMark(x=x, to=text_y - 12, text=text, text_x=text_x, text_y=text_y)


def _kept_inside(x: float, text: str, width: int, character: float = float(CHARACTER)) -> float:
    half = character * len(text) / 2
    return round(min(max(x, half), width - half), 1) if 2 * half < width else width / 2


def _guard(value: Fraction | None, guard: Fraction, scale: SizeScale) -> tuple[float, float] | None:
    if value is None or not guard or scale.off(value):
        return None
    return scale.at(value - guard), scale.at(value + guard)


def _arrow(x: float, off: str, middle: int, small: bool) -> str:
    """A triangle that points down at the scale, or out of the picture."""
    if off:
        tip, back = (x, x + 11) if off == "left" else (x, x - 11)
        return f"{tip},{middle} {back},{middle - 8} {back},{middle + 8}"
    foot = middle - (3 if small else 15)
    return f"{x},{foot} {round(x - 7, 1)},{foot - 11} {round(x + 7, 1)},{foot - 11}"


def figure(mm: Fraction, unit: str) -> str:
    return in_unit(mm, unit).replace("about ", "≈ ")


def _value_words(value: Fraction | None, guard: Fraction, unit: str) -> str:
    if value is None:
        return ""
    return f"{figure(value, unit)} ±{figure(guard, unit)}" if guard else figure(value, unit)


def _in_words(limits: Limits, label: str) -> str:
    told = [f"{label} on a scale"] if label else ["A scale"]
    return "; ".join([*told, *(f"{name.lower()} {words}" for name, words in limits_in_words(limits))])
