"""The pieces with an ordinary life, from a table that says how far those of each subassembly have come.

The first row that fits a place tells of it; its states are taken in turn by the places it fits, and “-” is a place that
nobody has looked at yet.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from parts.models import Position

from .clock import Story
from .lives import ALONG, World, life

TABLE = Path(__file__).with_name("ordinary.csv")
NOT_YET = "-"


@dataclass
class Row:
    subassembly: str
    position: str  # blank for all of them
    began: int  # how many days ago the first of them came off
    ended: int  # and the last step was taken
    at: str
    came_to: list[str]
    places: list[Position] = field(default_factory=list)


def ordinary(world: World) -> Iterator[Story]:
    """A story for each outer place of the table that no other story tells of."""
    table = _read()
    places = world.locomotive.positions.filter(part_of=None, made_to_suit=False).select_related("subassembly")
    for place in places.order_by("id"):
        row = next((row for row in table if _fits(row, place)), None)
        if row and place.pk not in world.told:
            row.places.append(place)
    for row in table:
        yield from _lives(world, row)


def _read() -> list[Row]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = [_row(**cells) for cells in csv.DictReader(file, delimiter=";")]
    unknown = {word for row in rows for word in row.came_to} - {*ALONG, NOT_YET}
    if unknown:
        raise ValueError(f"{TABLE.name}: no such state: {', '.join(sorted(unknown))}")
    return rows


def _row(*, subassembly, position, began, ended, at, came_to) -> Row:
    return Row(subassembly, position, int(began), int(ended), at, [word.strip() for word in came_to.split(",")])


def _fits(row: Row, place) -> bool:
    return row.subassembly == place.subassembly.code and row.position in ("", place.name)


def _lives(world: World, row: Row) -> Iterator[Story]:
    """Those that came further are dealt with first: what goes on after must come later."""
    if not row.places:
        raise ValueError(f"{TABLE.name}: {row.subassembly}, {row.position or 'all'}: fits no place")
    for number, place in enumerate(row.places):
        until = row.came_to[number % len(row.came_to)]
        if until != NOT_YET:
            late = number % 5
            yield life(
                world,
                place,
                until,
                began=row.began - late,
                ended=row.ended + 4 - late,
                at=row.at,
                **_seen(world, place),
            )


def _seen(world: World, place) -> dict:
    """What a volunteer notes at strip-down: a stamp on most handed pieces, packing here and there."""
    seen = {}
    if place.side and world.chance(0.5):
        letters = "".join(word[0] for word in (place.side, place.axle, place.end) if word).upper()
        seen["marks"] = world.choose(("punched {}", "stamped {}", "chiselled {}")).format(letters)
    if world.chance(0.08):
        seen["packing"] = world.choose(("two brass shims under it", "one steel packing, 3 mm", "paper joint, torn"))
    if world.chance(0.15):
        seen["way_round"] = world.choose(("oil hole up", "number stamped outwards", "lug towards the frame"))
    return seen
