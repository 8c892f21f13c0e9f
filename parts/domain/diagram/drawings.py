"""The drawings of a locomotive, one function for each place where one is shown. Each gives an SVG as text.

`key` begins every id within a picture: two on one page need two keys. `side` is LH, facing left, or RH, facing right.
Where a wheel arrangement can't be read, desk, print and phone show named boxes or zones; locator and silhouette are
empty.
"""

from collections.abc import Iterable

from . import desk, small, words
from .engine import Engine, SubassemblyCounts
from .parts_table import part_of
from .picture import picture
from .svg import element, text


def for_desk(
    engine: Engine,
    rows: Iterable[SubassemblyCounts],
    *,
    side: str = "LH",
    key: str = "engine",
    height: float = desk.DRAWING_HEIGHT,
) -> str:
    """Every part a link, as its rows say."""
    rows = list(rows)
    return desk.desk(picture(engine, rows), rows, side=_checked(side), key=key, height=height)


def for_print(engine: Engine, rows: Iterable[SubassemblyCounts], *, side: str = "LH", key: str = "engine") -> str:
    """180 mm wide and without links: to print, and to save as a file."""
    rows = list(rows)
    return desk.desk(picture(engine, rows), rows, side=_checked(side), key=key, linked=False, width="180mm")


def as_file(engine: Engine, rows: Iterable[SubassemblyCounts], head: str, *, side: str = "LH") -> str:
    """As for print, to be looked at by itself: black on white, whatever program shows it, with a line at its head."""
    svg = for_print(engine, rows, side=side)
    for was, now in (('="Canvas"', '="white"'), ('="currentColor"', '="black"'), ('="inherit"', '="sans-serif"')):
        svg = svg.replace(was, now)
    sheet = element("rect", width="100%", height="100%", fill="white", stroke="none")
    line = text(head, x=20, y=14, fill="black", stroke="none")
    return svg.replace("<defs>", f"{sheet}{line}<defs>", 1)


def for_phone(
    engine: Engine, rows: Iterable[SubassemblyCounts], hrefs: dict[str, str], *, side: str = "LH", key: str = "engine"
) -> str:
    """`hrefs` are the addresses of the zones front, middle and rear."""
    rows = list(rows)
    return small.phone(picture(engine, rows), rows, side=_checked(side), key=key, hrefs=hrefs)


def locator(engine: Engine, code: str, *, side: str = "", key: str = "locator", name: str = "") -> str:
    """72 px high, with the part of one subassembly inked. Without a side it faces left and says none."""
    part = part_of(SubassemblyCounts(code=code, name=name), engine)
    return small.locator(picture(engine), part, side=side and _checked(side), key=key, name=name)


def is_drawn(engine: Engine, code: str) -> bool:
    """Whether a locator has something to ink for this subassembly."""
    return bool(part_of(SubassemblyCounts(code=code, name=""), engine) and picture(engine).layout)


def silhouette(engine: Engine) -> str:
    return small.silhouette(picture(engine))


def description(engine: Engine, rows: Iterable[SubassemblyCounts], *, side: str = "LH") -> str:
    """What the drawing shows, in plain words."""
    rows = list(rows)
    return words.described(engine, rows, _checked(side), readable=bool(picture(engine).layout))


def zone_of(row: SubassemblyCounts, engine: Engine) -> str:
    """The zone on a phone that a subassembly belongs to: front, middle or rear."""
    return small.zone_of(row, engine)


def _checked(side: str) -> str:
    if side not in words.SIDES:
        raise ValueError(f"side {side!r} is not LH or RH")
    return side
