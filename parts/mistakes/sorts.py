"""The sorts of things that may be struck: who may, what stays with one that is struck, and what refuses it.

Whatever names a row in its table hangs on it and refuses, unless it stands in `stays`: a new table refuses by itself.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Model

from core.models import Event

from ..actions import writing
from ..domain.plain import capital, several
from ..models import Component, Drawing, Firm, HoldPoint, Location, Locomotive, Position, Subassembly
from ..models.struck import Strikable

Rows = dict[str, set[int]]
"""By sort, the numbers of what is struck together."""
Hanging = dict[type[Model], set[int]]
SOME = 500


@dataclass(frozen=True, kw_only=True)
class StrikingRule:
    model: type[Strikable]
    word: str  # whoever may do this may strike one
    stays: frozenset[str] = frozenset()  # "Model.field" of what may name it and stays with it
    carries: dict[str, frozenset[str]] = field(default_factory=dict)  # likewise, while nothing else names that
    sets: dict[str, Any] = field(default_factory=dict)  # columns that are set, beside `struck`
    along: Callable[[Any], Rows] = lambda row: {}  # what is struck with it
    about: Callable[[Any], dict[str, Any]] = lambda row: {}  # what its event is about
    places: Callable[[Any], list[int | None]] = lambda row: []  # to be looked at again


def _of_locomotive(row: Locomotive) -> Rows:
    return {
        "location": set(Location.objects.filter(locomotive=row).values_list("pk", flat=True)),
        "subassembly": set(row.subassemblies.values_list("pk", flat=True)),
        "place": set(row.positions.values_list("pk", flat=True)),
        "hold": set(HoldPoint.objects.filter(overhaul__locomotive=row).values_list("pk", flat=True)),
    }


def _around_hold(row: HoldPoint) -> dict[str, Any]:
    return {"overhaul": row.overhaul, "locomotive": row.locomotive, "subassembly": row.subassembly,
            "position": row.position, "component": row.component}  # fmt: skip


PHOTOS_AND_TAGS = frozenset({"Photo.component", "Tag.component", "Photo.position", "Photo.location", "Tag.location"})
MOVES = frozenset({"Movement.component", "Movement.crate", "Movement.came_from", "Movement.went_to"})
LETS_GO = ("place", "fitted", "came_off", "location", "normal_location", "renewal", "replaces", "cut_from")

SORTS: dict[str, StrikingRule] = {
    "piece": StrikingRule(
        model=Component,
        word="strike out",
        stays=PHOTOS_AND_TAGS | MOVES | {"Earmark.component", "Sighting.component", "StockTakeLine.component"},
        sets={f"{name}_id": None for name in LETS_GO},
        about=lambda row: {"component": row, "position_id": row.place_id},
        places=lambda row: [row.place_id, row.came_off_id],
    ),
    "place": StrikingRule(
        model=Position,
        word="edit structure",
        stays=PHOTOS_AND_TAGS
        | {
            "GoesOnAfter.position", "Earmark.position", "ConsumableUse.position",
            "Pattern.positions", "Pattern_positions.position", "Drawing.positions", "Drawing_positions.position",
        },
        carries={"Dimension.position": frozenset({"Limits.dimension", "Fit.hole", "Fit.shaft"})},
        sets={"retired": True, "standing": "not required", "need": ""},
        about=lambda row: {"position": row, "subassembly_id": row.subassembly_id, "locomotive_id": row.locomotive_id},
        places=lambda row: [row.part_of_id],
    ),
    "subassembly": StrikingRule(
        model=Subassembly,
        word="edit structure",
        stays=frozenset({"GoesOnAfter.subassembly", "GoesOnAfter.after", "Photo.subassembly"}),
        sets={"retired": True},
        about=lambda row: {"subassembly": row, "locomotive_id": row.locomotive_id},
    ),
    "location": StrikingRule(
        model=Location,
        word="edit locations",
        stays=PHOTOS_AND_TAGS | MOVES,
        sets={"retired": True},
        about=lambda row: {"location": row},
    ),
    "hold": StrikingRule(
        model=HoldPoint,
        word="hold",
        stays=frozenset({"HoldRelease.hold"}),
        about=_around_hold,
        places=lambda row: [row.position_id, row.component and row.component.place_id,
                            row.step and row.step.renewal.position_id],
    ),
    "drawing": StrikingRule(
        model=Drawing,
        word="edit drawings",
        stays=frozenset({"Drawing_positions.drawing", "GoodFor.drawing", "Paper.drawing"}),
    ),
    "firm": StrikingRule(
        model=Firm,
        word="edit firms",
        sets={"retired": True},
        along=lambda row: {"location": {row.location_id}},
        about=lambda row: {"location_id": row.location_id},
    ),
    "locomotive": StrikingRule(
        model=Locomotive,
        word="edit structure",
        stays=frozenset({"Overhaul.locomotive", "KeptForecast.locomotive"}),
        along=_of_locomotive,
        about=lambda row: {"locomotive": row},
    ),
}  # fmt: skip

CALLED = {"component": ("piece", "pieces"), "position": ("place", "places"), "location": ("place", "places")}


def name_of(row: Model) -> str:
    return capital(getattr(row, "words", "") if isinstance(row, Position) else str(row))


def hanging(rows: Rows) -> list[str]:
    """What names one of these and does not go with it: '3 pieces', '1 decision'."""
    found: Hanging = {}
    for sort, ids in rows.items():
        spec = SORTS[sort]
        for relation, name in _naming(spec.model, spec.stays):
            if name in spec.carries:
                _add_what_hangs_on(found, relation, ids, spec.carries[name])
            else:
                _add(found, relation.related_model, _ids(relation, ids) - _struck_too(relation.related_model, rows))
    return _counted(found)


def hanging_but(model: type[Model], ids: list[int], stays: frozenset[str]) -> list[str]:
    """What names one of these otherwise than by what stands in `stays`."""
    found: Hanging = {}
    for relation, _ in _naming(model, stays):
        _add(found, relation.related_model, _ids(relation, ids))
    return _counted(found)


def _counted(found: Hanging) -> list[str]:
    return [several(len(ids), *CALLED.get(model._meta.model_name or "", _names(model))) for model, ids in found.items()]


def _names(model: type[Model]) -> tuple[str, str]:
    return str(model._meta.verbose_name), str(model._meta.verbose_name_plural)


def _naming(model: type[Model], but: frozenset[str]) -> Iterator[tuple[Any, str]]:
    """Each relation that leads to the model, with its "Model.field"."""
    relations: Iterable[Any] = model._meta.get_fields(include_hidden=True)
    for relation in relations:
        if relation.auto_created and not relation.concrete:
            name = f"{relation.related_model.__name__}.{relation.field.name}"
            if name not in but:
                yield relation, name


def by_some(ids: Iterable[int]) -> Iterator[list[int]]:
    """In portions that every database takes in one question."""
    numbers = sorted(ids)
    return (numbers[start : start + SOME] for start in range(0, len(numbers), SOME))


def _ids(relation: Any, ids: Iterable[int]) -> set[int]:
    found: set[int] = set()
    for some in by_some(ids):
        rows = relation.related_model._base_manager.filter(**{f"{relation.field.name}__in": some})
        if issubclass(relation.related_model, Strikable):
            rows = rows.filter(struck=False)
        found.update(rows.values_list("pk", flat=True))
    return found


def _struck_too(model: type[Model], rows: Rows) -> set[int]:
    return next((ids for sort, ids in rows.items() if SORTS[sort].model is model), set())


def _add_what_hangs_on(found: Hanging, relation: Any, ids: Iterable[int], stays: frozenset[str]) -> None:
    carried = _ids(relation, ids)
    for further, _ in _naming(relation.related_model, stays):
        _add(found, further.related_model, _ids(further, carried))


def _add(found: Hanging, model: type[Model], ids: set[int]) -> None:
    if ids:
        found.setdefault(model, set()).update(ids)


def history_of(sort: str, row: Model) -> Any:
    """The events about one, by its kind or by its number in what they hold."""
    kind = writing.SUBJECT_KINDS.get(row._meta.model_name or "", "")
    return Event.objects.about(kind, row.pk) if kind else Event.objects.filter(**{f"data__{sort}": row.pk})
