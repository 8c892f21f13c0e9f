"""What the drawing shows, in plain words, for those who do not see it."""

from collections.abc import Iterable

from .engine import Engine, Row
from .parts_table import parts
from .states import Line, Standing, added_up

SIDES = {"LH": "left-hand side, facing left", "RH": "right-hand side, facing right"}


def described(engine: Engine, rows: Iterable[Row], side: str, *, readable: bool = True) -> str:
    """The locomotive, how far it is, and what is complete, begun, in doubt and missing."""
    rows = [row for row in rows if row.required]
    all_of_it = added_up(rows)
    view = f", {SIDES[side]}" if readable else ", not drawn"
    said = [f"{engine.wheels or 'Locomotive'}, gauge {engine.gauge_mm:g} mm{view}."]
    if not rows:
        return f"{said[0]} Nothing is required yet."
    said.append(f"{_capital(all_of_it.in_words())}.")
    for words, chosen in _kinds([(row.name, added_up([row])) for row in rows]):
        if chosen:
            said.append(f"{words}: {', '.join(chosen)}.")
    return " ".join(said)


def _kinds(rows: list[tuple[str, Standing]]) -> list[tuple[str, list[str]]]:
    return [
        ("Complete", [name for name, standing in rows if standing.line is Line.COMPLETE]),
        ("Begun", [name for name, standing in rows if standing.refitted and standing.line is not Line.COMPLETE]),
        ("In doubt", [name for name, standing in rows if standing.in_doubt]),
        ("Missing", [name for name, standing in rows if standing.line is Line.MISSING]),
    ]


def part_label(part: str, rows: list[Row], standing: Standing) -> str:
    """Axleboxes: 10 of 18 refitted, 6 ready, 2 blocked."""
    name = rows[0].name if len(rows) == 1 else parts()[part].name
    return f"{name}: {standing.in_words()}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
