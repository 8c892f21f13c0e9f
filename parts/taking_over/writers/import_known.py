"""The register of one locomotive as an import sees it: a fixed number of queries, however many rows."""

from collections import Counter, defaultdict
from typing import Any

from django.db.models import Q

from core.models import EventSubject
from parts.domain.import_plan import tags_to_ask_about
from parts.domain.import_rows import KnownLocation, KnownPiece, KnownPlace, Register
from parts.domain.importing import Listed, PathKey, path_key, place_key, place_words
from parts.domain.register_cells import fold
from parts.domain.words import State
from parts.models import Component, Location, LocationKind, Locomotive, Position, Subassembly, Tag

TAKE_OVER = "take over"
"""The event by which a works' word for a piece was taken over."""


def known(locomotive: Locomotive, listed: Listed) -> Register:
    """What is there already, as far as this list can touch it."""
    subassemblies, merged = _subassemblies(locomotive)
    places = _places(locomotive, subassemblies)
    for path, new in merged.items():  # what was merged goes on being known by its old name
        theirs = [(key, place) for key, place in places.items() if key[0] == subassemblies[new][0]]
        places |= {(path, *key[1:]): place for key, place in theirs if (path, *key[1:]) not in places}
    components = _components(locomotive)
    return Register(
        subassemblies=merged | {path: pk for pk, (path, retired) in subassemblies.items() if not retired},
        places=places,
        pieces=_pieces_by_place(components),
        loose=_loose(locomotive),
        works_numbers={fold(p.works_number): p.name for p, *_ in components.values() if p.works_number},
        codes=_codes(tags_to_ask_about(listed)),
        locations=_locations(),
    )


def _subassemblies(locomotive) -> tuple[dict[int, tuple[PathKey, bool]], dict[PathKey, int]]:
    """Each with its path and whether it is retired; and the paths of merged ones, each with what it became."""
    columns = ("pk", "parent_id", "name", "retired", "merged_into_id")
    rows = list(Subassembly.objects.filter(locomotive=locomotive).values_list(*columns))
    by_id = {pk: (parent, fold(name), retired) for pk, parent, name, retired, _ in rows}

    def path(pk) -> PathKey:
        parent, name, _ = by_id[pk]
        return (*path(parent), name) if parent else (name,)

    became = {pk: into for pk, *_, into in rows if into}

    def last(pk: int) -> int:
        return last(became[pk]) if pk in became else pk

    merged = {path(pk): new for pk in became if not by_id[new := last(pk)][2]}
    return {pk: (path(pk), retired) for pk, (_, _, retired) in by_id.items()}, merged


def _places(locomotive, subassemblies) -> dict:
    found = {}
    rows = Position.objects.filter(locomotive=locomotive).values(
        "pk",
        "subassembly_id",
        "name",
        "side",
        "axle",
        "end",
        "quantity",
        "drawing",
        "material",
        "safety_critical",
        "crack_check",
        "part_of_id",
        "known_empty_on",
        "retired",
        "opened",
        "notes",
        "matched",
        "merged_into_id",
    )
    merged, by_id = {}, {}
    for known in rows:
        row: dict[str, Any] = {**known}
        into = row.pop("merged_into_id")
        path, retired = subassemblies[row.pop("subassembly_id")]
        name, side, axle, end = (row.pop(column) for column in ("name", "side", "axle", "end"))
        key = place_key(path, name, side, axle, end)
        if retired and key in found:
            continue  # another subassembly of this name took over
        found[key] = KnownPlace(
            id=row.pop("pk"),
            key=key,
            words=place_words(name, side, axle, end),
            part_of=row.pop("part_of_id"),
            known_empty=row.pop("known_empty_on") is not None,
            retired=row.pop("retired") and not retired,
            **row,
        )
        by_id[found[key].id] = found[key]
        if into:
            merged[key] = into
        if retired:
            del found[key]
    return found | {key: new for key, into in merged.items() if (new := by_id.get(into)) and not new.retired}


def _components(locomotive) -> dict[int, tuple[KnownPiece, int | None, int | None]]:
    """Each piece with the place it has and the place it came off."""
    codes = dict(
        Tag.objects.filter(
            Q(component__locomotive=locomotive) | Q(component__place__locomotive=locomotive), current=True
        )
        .order_by()
        .values_list("component_id", "code")
    )
    rows = Component.objects.filter(Q(locomotive=locomotive) | Q(place__locomotive=locomotive)).values(
        "pk",
        "state",
        "name",
        "works_number",
        "location__path",
        "marks",
        "origin",
        "origin_evidence",
        "notes",
        "broken_down",
        "place_id",
        "came_off_id",
    )
    found: dict[int, tuple[KnownPiece, int | None, int | None]] = {}
    for known in rows:
        row: dict[str, Any] = {**known}
        pk, place, came_off = row.pop("pk"), row.pop("place_id"), row.pop("came_off_id")
        path = row.pop("location__path") or ""
        state = State(row.pop("state"))
        piece = KnownPiece(
            id=pk, state=state, code=codes.get(pk, ""), location=tuple(path.split(" / ")) if path else (), **row
        )
        found[pk] = (piece, place, came_off)
    return found


def _pieces_by_place(components) -> dict[int, list[KnownPiece]]:
    """By every place that a piece has, came off, or was once taken over for: a list that is read again after work has
    gone on must find its pieces and not add them a second time."""
    ids = defaultdict(set)
    for pk, (_, place, came_off) in components.items():
        ids[place].add(pk)
        ids[came_off].add(pk)
    taken_over = EventSubject.objects.filter(event__action=TAKE_OVER, kind="piece", number__in=list(components))
    piece_of = dict(taken_over.values_list("event", "number"))
    places = EventSubject.objects.filter(event__action=TAKE_OVER, kind="place").values_list("event", "number")
    for event, place in places:
        if event in piece_of:
            ids[place].add(piece_of[event])
    ids.pop(None, None)
    return {place: [components[pk][0] for pk in sorted(pks)] for place, pks in ids.items()}


def _loose(locomotive) -> Counter[tuple[str, PathKey]]:
    found = Component.objects.filter(locomotive=locomotive, place=None, came_off=None)
    lie = found.values_list("name", "location__path")
    return Counter((fold(name), path_key((path or "").split(" / ")) if path else ()) for name, path in lie)


def names_by_column(locomotive) -> dict[str, list[str]]:
    """What is there already by name, for questioning what is nearly called so."""
    return {
        "subassembly": list(locomotive.subassemblies.filter(retired=False).values_list("name", flat=True)),
        "position": list(
            locomotive.positions.filter(retired=False).values_list("name", flat=True).distinct().order_by()
        ),
        "location": list(Location.objects.in_use().values_list("name", flat=True)),
    }


def _codes(asked: set[str]) -> dict[str, str]:
    codes: dict[str, str] = {}
    in_order = sorted(asked)
    for start in range(0, len(in_order), 500):
        tags = Tag.objects.filter(code__in=in_order[start : start + 500]).select_related(
            "component", "location", "pattern"
        )
        codes |= {tag.code: str(tag.thing or "") for tag in tags}
    return codes


def _locations() -> dict[PathKey, KnownLocation]:
    rows = Location.objects.values_list("pk", "parent_id", "name", "kind", "retired", "away")
    by_id = {row[0]: row for row in rows}

    def path(pk) -> PathKey:
        _, parent, name, *_ = by_id[pk]
        return (*path(parent), *path_key((name,))) if parent else path_key((name,))

    return {
        path(pk): KnownLocation(id=pk, retired=retired, on_locomotive=kind == LocationKind.LOCOMOTIVE, away=away)
        for pk, _, _, kind, retired, away in by_id.values()
    }
