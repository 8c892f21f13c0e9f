"""What the drawing shows, in plain words, for those who do not see it."""

from collections.abc import Iterable

from .engine import Engine, SubassemblyCounts
from .parts_table import named
from .states import LineStyle, PartCounts, added_up

SIDES = {"LH": "left-hand side, facing left", "RH": "right-hand side, facing right"}


def described(engine: Engine, rows: Iterable[SubassemblyCounts], side: str, *, readable: bool = True) -> str:
    """The locomotive, how far it is, and what is complete, begun, in doubt and missing."""
    rows = [row for row in rows if row.required]
    kinds = _kinds([(row.name, added_up([row])) for row in rows])
    told = [f"{words}: {', '.join(chosen)}." for words, chosen in kinds if chosen]
    return " ".join([summed_up(engine, rows, side, readable=readable), *told])


def summed_up(engine: Engine, rows: Iterable[SubassemblyCounts], side: str, *, readable: bool = True) -> str:
    """The locomotive and how far it is, in two sentences."""
    counts = added_up(rows)
    view = SIDES[side] if readable else "not drawn"
    far = _capital(counts.in_words()) if counts.required else "Nothing is required yet"
    return f"{engine.wheels or 'Locomotive'}, gauge {engine.gauge_mm:g} mm, {view}. {far}."


def _kinds(rows: list[tuple[str, PartCounts]]) -> list[tuple[str, list[str]]]:
    return [
        ("Complete", [name for name, counts in rows if counts.line is LineStyle.COMPLETE]),
        ("Begun", [name for name, counts in rows if counts.refitted and counts.line is not LineStyle.COMPLETE]),
        ("In doubt", [name for name, counts in rows if counts.in_doubt]),
        ("Missing", [name for name, counts in rows if counts.line is LineStyle.MISSING]),
    ]


def part_label(part: str, rows: list[SubassemblyCounts], counts: PartCounts) -> str:
    """Axleboxes: 10 of 18 refitted, 6 ready, 2 blocked."""
    counted = [row for row in rows if row.required] or rows
    name = counted[0].name if len(counted) == 1 else named(part)
    return f"{name}: {counts.in_words()}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
