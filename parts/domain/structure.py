"""Lay out the subassemblies, the order of assembly and the positions of a locomotive from the tables under parts/data/.

The tables say what there is; this only expands them. What comes out is a beginning: a works edits it, adds to it and
takes away from it.
"""

import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from typing import TypeVar

import networkx as nx

from . import templates
from .consumables import NamedConsumable
from .named_dimensions import NamedDimension
from .plain import capital, listed
from .spec import Brake, LocomotiveSpec, SpecError, ValveGear, Valves
from .spots import Spot, spots
from .templates import PositionTemplate, SubassemblyTemplate, Tables
from .words import Kind

__all__ = [
    "Brake",
    "LocomotiveSpec",
    "StructurePlan",
    "PlannedPosition",
    "PlannedSubassembly",
    "SpecError",
    "ValveGear",
    "Valves",
    "plan",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSubassembly:
    code: str  # a slug, unique in the locomotive
    name: str
    parent: str | None  # a code
    goes_on_after: tuple[str, ...]  # codes
    sequence: int = 0
    caution: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPosition:
    key: str  # unique in the locomotive
    subassembly: str  # a code
    name: str
    side: str = ""  # LH, RH
    axle: str = ""
    end: str = ""
    inside: str = ""  # inside, outside
    part_of: str | None = None  # the key of a built-up piece's position
    quantity: int = 1
    material: str = ""
    drawing: str = ""
    safety_critical: bool = False
    pressure_part: bool = False
    crack_check: str = ""  # a words.Method
    surfaces: tuple[str, ...] = ()
    calls_for: tuple[str, ...] = ()  # words.Kind
    material_papers: bool = False
    needed_first: bool = True
    goes_on_after: tuple[str, ...] = ()  # codes, of a position with an order of its own
    matched: str = ""  # positions with the same word here are one matched set
    made_to_suit: bool = False
    carries_identity: bool = False
    out_of_reach_under: tuple[str, ...] = ()  # codes; once these are on, nobody gets at it
    dimensions: tuple[NamedDimension, ...] = ()  # in the unit of the drawings
    consumables: tuple[NamedConsumable, ...] = ()  # new each time it goes together
    caution: str = ""
    source: str = ""


Named = TypeVar("Named", NamedDimension, NamedConsumable)


@dataclass(frozen=True, slots=True)
class StructurePlan:
    """Subassemblies with parents before their parts, and positions with built-up pieces before what is in them."""

    subassemblies: tuple[PlannedSubassembly, ...]
    positions: tuple[PlannedPosition, ...]


@dataclass(frozen=True, slots=True)
class _Copy:
    """One copy of a subassembly template, and the spot on the locomotive it is for."""

    code: str
    spot: Spot
    facts: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Stand:
    """Where a position stands, and what it is called there."""

    template: PositionTemplate
    copy: _Copy
    spot: Spot
    name: str
    key: str


def plan(spec: LocomotiveSpec, tables: Tables | None = None) -> StructurePlan:
    return _Layout(spec, tables or templates.tables()).plan()


class _Layout:
    def __init__(self, spec: LocomotiveSpec, tables: Tables):
        self.spec, self.tables = spec, tables
        self.spots = cache(partial(spots, spec))  # most places share theirs with many
        self.words = cache(_translator({} if spec.british else tables.american))
        self.dimensions = {name: tuple(map(self._named, rows)) for name, rows in tables.dimensions.items()}
        self.consumables = {name: tuple(map(self._named, rows)) for name, rows in tables.consumables.items()}
        self.facts_at = cache(spec.facts.union)
        self.copies = {template.code: self._copies_of(template) for template in tables.subassemblies}

    def plan(self) -> StructurePlan:
        pairs = [(template, copy) for template in self.tables.subassemblies for copy in self.copies[template.code]]
        subassemblies = _in_order([self._subassembly(template, copy) for template, copy in pairs])
        found = [
            self._stand(template, copy, spot)
            for template in self.tables.positions
            for copy in self.copies[template.subassembly]
            for spot in self.spots(template.scope, template.end, copy.spot)
            if template.when.holds(self.facts_at(spot.facts))
        ]
        sequence = {subassembly.code: subassembly.sequence for subassembly in subassemblies}
        positions = [self._position(stand, owner) for stand, owner in zip(found, _owners(found), strict=True)]
        return StructurePlan(subassemblies, tuple(sorted(positions, key=lambda one: sequence[one.subassembly])))

    def _named(self, row: Named) -> Named:
        return row if self.spec.british else replace(row, name=self.words(row.name))

    def _copies_of(self, template: SubassemblyTemplate) -> tuple[_Copy, ...]:
        return tuple(
            _Copy(_code(template.code, spot), replace(spot, end=""), self.facts_at(spot.facts))
            for spot in self.spots(template.scope, (), Spot())
            if template.when.holds(self.facts_at(spot.facts))
        )

    def _subassembly(self, template: SubassemblyTemplate, copy: _Copy) -> PlannedSubassembly:
        after = [
            code
            for edge in self.tables.order
            if edge.subassembly == template.code and edge.when.holds(copy.facts)
            for code in self._codes(edge.goes_on_after, copy.spot)
        ]
        return PlannedSubassembly(
            code=copy.code,
            name=self.words(_subassembly_name(template, self.spec, copy.spot)),
            parent=self._parent(template, copy),
            goes_on_after=tuple(dict.fromkeys(after)),
            caution=template.caution,
        )

    def _parent(self, template: SubassemblyTemplate, copy: _Copy) -> str | None:
        if not template.parent:
            return None
        found = self._codes(template.parent, copy.spot)
        if len(found) != 1:
            raise templates.TemplateError(
                f"subassemblies.csv: “{template.code}” is part of “{template.parent}”, of which {len(found)} are "
                "laid out; it must be one, so give both the same scope and conditions."
            )
        return found[0]

    def _codes(self, code: str, spot: Spot) -> tuple[str, ...]:
        """The copies of another subassembly that matter here: the one for the same spot, or all where it is shared."""
        return tuple(copy.code for copy in self.copies[code] if copy.spot.agrees_with(spot))

    def _stand(self, template: PositionTemplate, copy: _Copy, spot: Spot) -> _Stand:
        name = self.words(self._told_apart(template.name, copy.spot, spot))
        return _Stand(template, copy, spot, name, _slug(copy.code, name, spot.side, spot.axle, spot.end))

    def _position(self, stand: _Stand, owner: str | None) -> PlannedPosition:
        template, copy, spot = stand.template, stand.copy, stand.spot
        flags, dimensions = template.flags, self.dimensions.get(template.name, ())
        hidden = self._hidden_under(template, copy, spot)
        return PlannedPosition(
            key=stand.key,
            subassembly=copy.code,
            name=stand.name,
            side=spot.side,
            axle=spot.axle,
            end=spot.end,
            inside=spot.inside,
            part_of=owner,
            quantity=template.quantity,
            material=template.material,
            safety_critical="safety critical" in flags,
            pressure_part="pressure part" in flags,
            crack_check=template.crack_check,
            surfaces=template.surfaces,
            calls_for=((Kind.DIMENSIONAL.value,) if dimensions else ()) + template.calls_for,
            material_papers="material papers" in flags,
            needed_first="not needed first" not in flags,
            goes_on_after=tuple(code for after in template.goes_on_after for code in self._codes(after, spot)),
            matched=_matched(template, spot),
            made_to_suit="made to suit" in flags,
            carries_identity="carries identity" in flags,
            out_of_reach_under=tuple(hidden),
            dimensions=dimensions,
            consumables=self.consumables.get(template.name, ()),
            caution=_cautioned(template.caution, hidden.values()),
            source=template.source,
        )

    def _told_apart(self, name: str, copy: Spot, spot: Spot) -> str:
        """Where those of several cylinder groups or engine units stand in the same subassembly, the name says which."""
        if spot.inside and not copy.inside and len(self.spec.cylinder_groups) > 1:
            name = f"{spot.inside} {name}"
        if spot.unit and not copy.unit and not spot.axle and not spot.truck:
            name = f"{spot.unit} {name}"
        return name

    def _hidden_under(self, template: PositionTemplate, copy: _Copy, spot: Spot) -> dict[str, str]:
        """The subassemblies under which it is out of reach: code and name."""
        under = template.out_of_reach_under
        if not under or not template.out_of_reach_when.holds(copy.facts | spot.facts):
            return {}
        subassembly = next(sub for sub in self.tables.subassemblies if sub.code == under)
        return {
            other.code: self.words(_subassembly_name(subassembly, self.spec, other.spot))
            for other in self.copies[under]
            if other.spot.agrees_with(spot)
        }


def _cautioned(caution: str, hidden_under: Collection[str]) -> str:
    if not hidden_under:
        return caution
    words = listed([f"“{name}”" for name in hidden_under])
    return f"{caution} Out of reach once {words} is done: finish it and look it over before.".lstrip()


def _in_order(found: list[PlannedSubassembly]) -> tuple[PlannedSubassembly, ...]:
    """As in the table, but that what goes on after another one follows it: springs may go on before or after wheels."""
    place = {sub.code: number for number, sub in enumerate(found)}
    graph = nx.DiGraph()
    graph.add_nodes_from(place)
    graph.add_edges_from((before, sub.code) for sub in found for before in (*sub.goes_on_after, sub.parent) if before)
    try:
        codes = list(nx.lexicographical_topological_sort(graph, key=place.get))
    except nx.NetworkXUnfeasible:
        raise templates.TemplateError("order.csv: what goes on after what makes a loop.") from None
    return tuple(replace(found[place[code]], sequence=number) for number, code in enumerate(codes, 1))


def _owners(found: list[_Stand]) -> Iterator[str | None]:
    """The key of the built-up piece that each is part of, at the same spot of the same subassembly, if it is."""
    by_name: dict[tuple[str, str], list[_Stand]] = {}
    for one in found:
        by_name.setdefault((one.copy.code, one.template.name), []).append(one)
    for inner in found:
        if not (name := inner.template.part_of):
            yield None
            continue
        owners = [one for one in by_name.get((inner.copy.code, name), ()) if one.spot.contains(inner.spot)]
        if len(owners) != 1:
            raise templates.TemplateError(
                f"“{inner.template.name}” is part of {len(owners)} pieces named “{name}”; it must be one."
            )
        yield owners[0].key


def _subassembly_name(template: SubassemblyTemplate, spec: LocomotiveSpec, spot: Spot) -> str:
    both_ends = len([1 for unit, _, _ in spec.trucks if unit == spot.unit]) > 1
    kind = {"pony": "pony truck", "bogie": "bogie", "": ""}[spot.kind]
    truck = f"{spot.truck} {kind}" if kind == "pony truck" or both_ends else kind
    values = {"Group": spot.inside, "Axle": spot.axle, "Truck": truck, "Brake": spec.brake}
    name = re.sub(r"{(\w+)}", lambda match: values[match[1]], template.name)
    if spot.unit and not name.startswith(spot.unit):
        whose = spot.unit.removesuffix(" engine") if "boiler half" in template.scope else spot.unit
        name = f"{whose} {name[:1].lower()}{name[1:]}"
    return capital(name)


def _code(code: str, spot: Spot) -> str:
    unit = "" if spot.axle else spot.unit  # the name of an axle says its unit
    return _slug(code, unit, spot.truck, spot.inside, spot.axle)


def _matched(template: PositionTemplate, spot: Spot) -> str:
    if not template.matched:
        return ""
    by_axle = any("axle" in word or word == "rod" for word in template.scope)
    return _slug(template.matched, spot.inside, spot.side, spot.axle if by_axle else "")


def _translator(words: dict[str, str]) -> Callable[[str], str]:
    if not words:
        return lambda name: name
    longest_first = sorted(words, key=len, reverse=True)
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})", re.IGNORECASE)

    def american(match: re.Match[str]) -> str:
        word = words[match[0].lower()]
        return capital(word) if match[0][0].isupper() else word

    return lambda name: pattern.sub(american, name)


def _slug(*words: str) -> str:
    return "-".join(filter(None, map(_slugged, words)))


@lru_cache(maxsize=4096)
def _slugged(word: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")
