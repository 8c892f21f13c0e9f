"""Which words there are about a thing, and which of them are its own: a tag is the piece's own, its crate is not."""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass

from .models import Component, Firm, Location, Locomotive, Position, Subassembly, Tag

HANDS = {"LH": "left hand", "RH": "right hand"}

Said = tuple[str, list[str], list[str], bool]
"""Its name, its further own words, the words around it, and whether it is past."""


@dataclass(frozen=True)
class Words:
    """How the words of one kind of thing are read, for many numbers in few queries."""

    table: str
    read: Callable[[list[int]], dict[int, Said]]

    def __call__(self, ids: list[int]) -> dict[int, Said]:
        return self.read(ids)

    def all_ids(self) -> list[int]:
        return list(MODELS[self.table].objects.order_by("pk").values_list("pk", flat=True))


def of_pieces(ids) -> dict[int, Said]:
    codes = _codes(component__in=ids)
    columns = (
        "pk", "name", "state", "marks", "works_number", "cast_number", "side", "location__path", "locomotive__name",
        *(f"place__{part}" for part in ("name", "side", "axle", "end", "inside", "drawing", "subassembly__name")),
    )  # fmt: skip
    found = {}
    for row in Component.objects.filter(pk__in=ids).order_by().values_list(*columns):
        pk, name, state, marks, works, cast, side, path, engine, *place = row
        around = [HANDS.get(side, ""), side, path, engine, *place, HANDS.get(place[1], "")]
        found[pk] = (name, [*codes[pk], marks, works, cast], around, state == "withdrawn")
    return found


def of_places(ids) -> dict[int, Said]:
    columns = (
        "pk", "name", "drawing", "side", "axle", "end", "inside", "subassembly__name", "locomotive__name"
    )  # fmt: skip
    found = {}
    for pk, name, drawing, side, *around in Position.objects.in_use().filter(pk__in=ids).values_list(*columns):
        found[pk] = (name, [drawing], [side, HANDS.get(side, ""), *around], False)
    return found


def of_locations(ids) -> dict[int, Said]:
    codes = _codes(location__in=ids)
    rows = Location.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "path", "note")
    return {pk: (name, codes[pk], [path, note], False) for pk, name, path, note in rows}


def of_firms(ids) -> dict[int, Said]:
    rows = Firm.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "does", "location__path")
    return {pk: (name, [], [does, path], False) for pk, name, does, path in rows}


def of_subassemblies(ids) -> dict[int, Said]:
    found = Subassembly.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "code", "locomotive__name")
    return {pk: (name, [code], [engine], False) for pk, name, code, engine in found}


def of_locomotives(ids) -> dict[int, Said]:
    rows = Locomotive.objects.filter(pk__in=ids).order_by("pk").values_list("pk", "name", "slug")
    return {pk: (name, [slug], [], False) for pk, name, slug in rows}


def _codes(**hanging) -> defaultdict[int, list[str]]:
    """Every tag that each has borne, torn ones too."""
    (key,) = hanging
    field = key.removesuffix("__in") + "_id"
    codes = defaultdict(list)
    for thing, code in Tag.objects.filter(**hanging).order_by("pk").values_list(field, "code"):
        codes[thing].append(code)
    return codes


MODELS = {model._meta.db_table: model for model in (Component, Position, Location, Firm, Subassembly, Locomotive)}
WORDS: dict[str, Words] = {
    "piece": Words("parts_component", of_pieces),
    "place": Words("parts_position", of_places),
    "location": Words("parts_location", of_locations),
    "firm": Words("parts_firm", of_firms),
    "subassembly": Words("parts_subassembly", of_subassemblies),
    "locomotive": Words("parts_locomotive", of_locomotives),
}
