"""Lay out the subassemblies, the order of assembly and the positions of a locomotive from the tables under parts/data/.

The tables say what there is; this only expands them. What comes out is a beginning: a works edits it, adds to it and
takes away from it.
"""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from . import templates
from .spec import Brake, LocomotiveSpec, SpecError, ValveGear, Valves
from .spots import Spot, spots
from .templates import PositionTemplate, SubassemblyTemplate, Tables

__all__ = [
    "Brake",
    "LocomotiveSpec",
    "Plan",
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
    sequence: int
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
    caution: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """Subassemblies with parents before their parts, and positions with built-up pieces before what is in them."""

    subassemblies: tuple[PlannedSubassembly, ...]
    positions: tuple[PlannedPosition, ...]


@dataclass(frozen=True, slots=True)
class _Copy:
    """One copy of a subassembly template, and the spot on the locomotive it is for."""

    code: str
    spot: Spot
    facts: frozenset[str]


def plan(spec: LocomotiveSpec, tables: Tables | None = None) -> Plan:
    return _Layout(spec, tables or templates.tables()).plan()


class _Layout:
    def __init__(self, spec: LocomotiveSpec, tables: Tables):
        self.spec, self.tables = spec, tables
        self.copies = {template.code: self._copies_of(template) for template in tables.subassemblies}
        self.words = _translator({} if spec.british else tables.american)

    def plan(self) -> Plan:
        pairs = [(template, copy) for template in self.tables.subassemblies for copy in self.copies[template.code]]
        subassemblies = tuple(self._subassembly(template, copy, n) for n, (template, copy) in enumerate(pairs, 1))
        positions = [
            (template, spot, self._position(template, copy, spot))
            for template in self.tables.positions
            for copy in self.copies[template.subassembly]
            for spot in spots(self.spec, template.scope, template.end, copy.spot)
            if template.when.holds(self.spec.facts | spot.facts)
        ]
        sequence = {subassembly.code: subassembly.sequence for subassembly in subassemblies}
        placed = _with_built_up_pieces(positions)
        return Plan(subassemblies, tuple(sorted(placed, key=lambda position: sequence[position.subassembly])))

    def _copies_of(self, template: SubassemblyTemplate) -> tuple[_Copy, ...]:
        scope = (template.scope,) if template.scope else ()
        found = spots(self.spec, scope, (), Spot())
        return tuple(
            _Copy(
                _slug(template.code, spot.truck, spot.inside, spot.axle),
                replace(spot, end=""),
                self.spec.facts | spot.facts,
            )
            for spot in found
            if template.when.holds(self.spec.facts | spot.facts)
        )

    def _subassembly(self, template: SubassemblyTemplate, copy: _Copy, sequence: int) -> PlannedSubassembly:
        after = [
            code
            for edge in self.tables.order
            if edge.subassembly == template.code and edge.when.holds(copy.facts)
            for code in self._codes(edge.goes_on_after, copy.spot)
        ]
        return PlannedSubassembly(
            code=copy.code,
            name=self.words(_subassembly_name(template.name, self.spec, copy.spot)),
            parent=self._parent(template, copy),
            goes_on_after=tuple(dict.fromkeys(after)),
            sequence=sequence,
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

    def _position(self, template: PositionTemplate, copy: _Copy, spot: Spot) -> PlannedPosition:
        name = template.name
        if spot.inside and not copy.spot.inside and len(self.spec.cylinder_groups) > 1:
            name = f"{spot.inside} {name}"  # an inside and an outside one stand in the same subassembly
        name, flags = self.words(name), template.flags
        matched_to = (spot.inside, spot.side, spot.axle if _counts_axles(template.scope) else "")
        return PlannedPosition(
            key=_slug(copy.code, name, spot.side, spot.axle, spot.end),
            subassembly=copy.code,
            name=name,
            side=spot.side,
            axle=spot.axle,
            end=spot.end,
            inside=spot.inside,
            quantity=template.quantity,
            material=template.material,
            safety_critical="safety critical" in flags,
            pressure_part="pressure part" in flags,
            crack_check=template.crack_check,
            surfaces=template.surfaces,
            calls_for=template.calls_for,
            material_papers="material papers" in flags,
            needed_first="not needed first" not in flags,
            goes_on_after=tuple(code for after in template.goes_on_after for code in self._codes(after, spot)),
            matched=_slug(template.matched, *matched_to) if template.matched else "",
            made_to_suit="made to suit" in flags,
            carries_identity="carries identity" in flags,
            caution=template.caution,
            source=template.source,
        )


def _with_built_up_pieces(found: list[tuple[PositionTemplate, Spot, PlannedPosition]]) -> list[PlannedPosition]:
    """Tie each inner position to the built-up piece named in its template, at the same spot of the same subassembly."""
    by_name: dict[tuple[str, str], list[tuple[Spot, PlannedPosition]]] = {}
    for template, spot, position in found:
        by_name.setdefault((position.subassembly, template.name), []).append((spot, position))
    placed = []
    for template, spot, position in found:
        if not template.part_of:
            placed.append(position)
            continue
        owners = [owner for at, owner in by_name.get((position.subassembly, template.part_of), []) if at.contains(spot)]
        if len(owners) != 1:
            raise templates.TemplateError(
                f"“{template.name}” is part of {len(owners)} pieces named “{template.part_of}”; it must be one."
            )
        placed.append(replace(position, part_of=owners[0].key))
    return placed


def _subassembly_name(name: str, spec: LocomotiveSpec, spot: Spot) -> str:
    both_ends = len(spec.trucks) > 1
    truck = {"pony": f"{spot.truck} pony truck", "bogie": f"{spot.truck} bogie" if both_ends else "bogie", "": ""}[
        spot.kind
    ]
    said = {"Group": spot.inside, "Axle": spot.axle, "Truck": truck, "Brake": spec.brake}
    return re.sub(r"{(\w+)}", lambda match: _capital(said[match[1]]), name)


def _counts_axles(scope: tuple[str, ...]) -> bool:
    return any("axle" in word or word == "rod" for word in scope)


def _translator(words: dict[str, str]):
    if not words:
        return lambda name: name
    longest_first = sorted(words, key=len, reverse=True)
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})", re.IGNORECASE)

    def american(match: re.Match) -> str:
        word = words[match[0].lower()]
        return _capital(word) if match[0][0].isupper() else word

    return lambda name: pattern.sub(american, name)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _slug(*words: str) -> str:
    return "-".join(filter(None, map(_slugged, words)))


@lru_cache(maxsize=4096)
def _slugged(word: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")
