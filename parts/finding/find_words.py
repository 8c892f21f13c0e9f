"""Which words there are about a thing, and which of them are its own: a tag is the piece's own, its crate is not."""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from ..models import Component, Drawing, Firm, GoodFor, Location, Locomotive, Pattern, Position, Subassembly, Tag

HANDS = {"LH": "left hand", "RH": "right hand"}


@dataclass(frozen=True, kw_only=True)
class Said:
    """What is said about one thing."""

    name: str
    own: list[str] = field(default_factory=list)  # what else stands on it
    around: list[str] = field(default_factory=list)  # of its place, and of where it lies
    codes: list[str] = field(default_factory=list)  # every tag that it bears or bore
    past: bool = False


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
        own = [marks, works, cast]
        found[pk] = Said(name=name, own=own, around=around, codes=codes[pk], past=state == "withdrawn")
    return found


def of_places(ids) -> dict[int, Said]:
    columns = (
        "pk", "name", "drawing", "side", "axle", "end", "inside", "subassembly__name", "locomotive__name"
    )  # fmt: skip
    found = {}
    for pk, name, drawing, side, *around in Position.objects.in_use().filter(pk__in=ids).values_list(*columns):
        found[pk] = Said(name=name, own=[drawing], around=[side, HANDS.get(side, ""), *around])
    return found


def of_locations(ids) -> dict[int, Said]:
    codes = _codes(location__in=ids)
    rows = Location.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "path", "note")
    return {pk: Said(name=name, around=[path, note], codes=codes[pk]) for pk, name, path, note in rows}


def of_firms(ids) -> dict[int, Said]:
    rows = Firm.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "does", "location__path")
    return {pk: Said(name=name, around=[does, path]) for pk, name, does, path in rows}


def of_subassemblies(ids) -> dict[int, Said]:
    found = Subassembly.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "code", "locomotive__name")
    return {pk: Said(name=name, own=[code], around=[engine]) for pk, name, code, engine in found}


def of_locomotives(ids) -> dict[int, Said]:
    rows = Locomotive.objects.filter(pk__in=ids).order_by("pk").values_list("pk", "name", "slug")
    return {pk: Said(name=name, own=[slug]) for pk, name, slug in rows}


def of_drawings(ids) -> dict[int, Said]:
    good_for = defaultdict(list)
    for pk, engine, words in GoodFor.objects.filter(drawing__in=ids).values_list(
        "drawing", "locomotive__name", "words"
    ):
        good_for[pk].append(engine or words)
    columns = ("pk", "title", "number", "sheet", "issue", "original", "original_at__path")
    found = {}
    for pk, title, number, sheet, issue, original, path in Drawing.objects.filter(pk__in=ids).values_list(*columns):
        around = [f"sheet {sheet}", f"issue {issue}", original, path, *good_for[pk]]
        found[pk] = Said(name=title, own=[number, f"{number} {sheet}"], around=around)
    return found


def of_patterns(ids) -> dict[int, Said]:
    codes = _codes(pattern__in=ids)
    columns = ("pk", "kind", "name", "drawing", "marks", "owner", "state", "location__path")
    found = {}
    for pk, kind, name, drawing, marks, owner, state, path in Pattern.objects.filter(pk__in=ids).values_list(*columns):
        past = state == "withdrawn"
        found[pk] = Said(name=name, own=[drawing, marks], around=[kind, owner, path], codes=codes[pk], past=past)
    return found


def _codes(**hanging) -> defaultdict[int, list[str]]:
    """Every tag that each has borne, torn ones too."""
    (key,) = hanging
    field = key.removesuffix("__in") + "_id"
    codes = defaultdict(list)
    for thing, code in Tag.objects.filter(**hanging).order_by("pk").values_list(field, "code"):
        codes[thing].append(code)
    return codes


READ = (Component, Position, Location, Firm, Subassembly, Locomotive, Drawing, Pattern)
MODELS = {model._meta.db_table: model for model in READ}
WORDS: dict[str, Words] = {
    "piece": Words("parts_component", of_pieces),
    "place": Words("parts_position", of_places),
    "location": Words("parts_location", of_locations),
    "firm": Words("parts_firm", of_firms),
    "subassembly": Words("parts_subassembly", of_subassemblies),
    "locomotive": Words("parts_locomotive", of_locomotives),
    "drawing": Words("parts_drawing", of_drawings),
    "pattern": Words("parts_pattern", of_patterns),
}
