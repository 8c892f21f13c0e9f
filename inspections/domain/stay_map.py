"""A map of stays in rows and columns: what each supports, its stress, what broken ones throw on the next, and patterns.

Any consistent units. A stay supports half-way to its neighbours, or to the edge where a flange or ring takes over; its
own section is deducted. What a broken stay should carry is shared alike among the sound ones round it. That is common
practice with no source: a plate shares by its stiffness, and the nearest take more. So where a neighbour is broken the
map shows a warning and never a pass. It decides nothing: that is for the competent person and the local code.

Worked example: stays 4 in apart both ways, root 0.8 in, 180 lb/in²: 2,789.5 lb and 5,549.6 lb/in² each. One of them
broken: its load falls on four, 697.4 lb more each, so 3,486.9 lb and 6,937 lb/in².
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import combinations, pairwise

import networkx

from .boiler_numbers import above_zero, circle, square_root
from .boiler_stays import least_section
from .exact import Number, exact

Place = tuple[int, int]
"""Row and column, as they are numbered on the map."""


class Found(StrEnum):
    SOUND = "sound"
    WASTED = "wasted"
    LEAKING = "leaking at the plate"
    RENEWED = "renewed"
    BROKEN = "broken"
    MISSING = "missing"
    TELLTALE_LEAKS = "telltale leaks"
    TELLTALE_PLUGGED = "telltale plugged"
    TELLTALE_UNREAD = "telltale not read"


COUNTS_AS_BROKEN = frozenset(
    {Found.BROKEN, Found.MISSING, Found.TELLTALE_LEAKS, Found.TELLTALE_PLUGGED, Found.TELLTALE_UNREAD}
)
"""A telltale that leaks, is plugged or was not read counts as a broken stay (49 CFR 230.39, from memory)."""
TO_RENEW = COUNTS_AS_BROKEN - {Found.TELLTALE_PLUGGED, Found.TELLTALE_UNREAD}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """`root` is the diameter that fills its hole in the plate, at the root of its thread; `least` the thinnest."""

    place: Place
    root: Number
    found: Found
    least: Number | None = None
    telltale: Number = 0
    kind: str = "firebox stay"
    material: str = ""

    @property
    def broken(self) -> bool:
        return self.found in COUNTS_AS_BROKEN

    @property
    def own_area(self) -> Fraction:
        return circle(self.root)

    @property
    def section(self) -> Fraction:
        """The least that carries, less its telltale."""
        thinnest = above_zero(self.root if self.least is None else self.least, "The least diameter")
        if thinnest > exact(self.root, "The diameter at the root"):
            raise ValueError("The least diameter must not be more than that at the root.")
        return least_section(thinnest, self.telltale)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Where rows and columns lie on the plate, inside the firebox, and where its edges take over the support.

    `none_meant` are crossings where no stay belongs, such as the fire hole.
    """

    rows: Mapping[int, Number]
    columns: Mapping[int, Number]
    top: Number
    bottom: Number
    left: Number
    right: Number
    none_meant: frozenset[Place] = frozenset()

    def widths(self, places: Iterable[int], of: str) -> dict[int, Fraction]:
        """What each of these rows (or columns) takes up: half-way to the next, or to the edge."""
        lines, low, high = (self.rows, self.top, self.bottom) if of == "row" else (self.columns, self.left, self.right)
        at = sorted((exact(lines[place], f"The {of}"), place) for place in set(places))
        spots = [exact(low, "The edge"), *(spot for spot, _ in at), exact(high, "The edge")]
        if any(one >= other for one, other in pairwise(spots)):
            raise ValueError(f"Each {of} must have a place of its own between the edges.")
        middles = [(one + other) / 2 for one, other in pairwise(spots)]
        taken = (after - before for before, after in pairwise(middles))
        return {place: width for (_, place), width in zip(at, taken, strict=True)}

    def distance(self, one: Place, other: Place) -> Fraction:
        """In a straight line inside the firebox."""
        down = exact(self.rows[one[0]], "The row") - exact(self.rows[other[0]], "The row")
        across = exact(self.columns[one[1]], "The column") - exact(self.columns[other[1]], "The column")
        return square_root(down * down + across * across)


class Verdict(StrEnum):
    WITHIN = "within the stress allowed"
    OVER = "over the stress allowed"
    WARNING = "carries what a broken stay beside it should: no pass"
    BROKEN = "counts as broken"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """One stay on the map. `load` and `stress` are without, `thrown` and `stress_with_thrown` with its neighbours'."""

    stay: Stay
    supported: Fraction
    load: Fraction
    stress: Fraction
    thrown: Fraction
    stress_with_thrown: Fraction
    verdict: Verdict


def load_stays(stays: Sequence[Stay], grid: Grid, pressure: Number, stress_allowed: Number) -> list[Loaded]:
    """Each stay with what it carries. `stress_allowed` comes from the code (boiler_rules.py) or the competent person.

    Supported areas go by the rows and columns of the grid. Refused are two stays in one place, a place not on the grid,
    and a crossing of it for which nothing is entered: a stay that is gone is entered as missing.
    """
    by_place = _placed(stays, grid)
    at, allowed = above_zero(pressure, "The pressure"), above_zero(stress_allowed, "The stress allowed")
    heights, widths = grid.widths(grid.rows, "row"), grid.widths(grid.columns, "column")
    supported = {place: heights[place[0]] * widths[place[1]] for place in by_place}
    loads = {place: at * _net(supported[place], stay) for place, stay in by_place.items()}
    thrown = thrown_loads(by_place, loads)
    return [
        _loaded(stay, supported[place], loads[place], thrown.get(place, Fraction(0)), allowed)
        for place, stay in by_place.items()
    ]


def thrown_loads(stays: Mapping[Place, Stay], loads: Mapping[Place, Fraction]) -> dict[Place, Fraction]:
    """What each group of broken stays throws on the sound ones beside it in row and column, in equal parts.

    What is thrown adds up to what the broken ones should carry, less the groups with no sound stay beside them, which
    `patterns` names.
    """
    thrown: dict[Place, Fraction] = defaultdict(Fraction)
    for group in broken_groups(stays.values()):
        round_it = _round(group, stays)
        for place in round_it:
            thrown[place] += sum((loads[one] for one in group), Fraction(0)) / len(round_it)
    return dict(thrown)


def broken_groups(stays: Iterable[Stay]) -> list[set[Place]]:
    """Broken stays that are beside each other, row or column, together."""
    broken = networkx.Graph()
    broken.add_nodes_from(stay.place for stay in stays if stay.broken)
    broken.add_edges_from((one, other) for one in list(broken) for other in beside(one) if other in broken)
    return sorted(networkx.connected_components(broken), key=min)


def _round(group: set[Place], stays: Collection[Place]) -> set[Place]:
    return {other for place in group for other in beside(place) if other in stays and other not in group}


def beside(place: Place) -> list[Place]:
    row, column = place
    return [(row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternLimit:
    """How many broken stays a regime bears: no two `apart` or nearer, `in_all` at most; None where it is silent."""

    regime: str
    clause: str
    from_memory: bool
    apart: Number | None = None
    in_all: int | None = None

    @property
    def cited(self) -> str:
        return f"{self.regime}, {self.clause}" + (" (from memory)" if self.from_memory else "")


LIMITS_49_CFR = PatternLimit(regime="49 CFR Part 230", clause="230.39", from_memory=True, apart=Fraction(24), in_all=4)
"""Inches: two broken within 24 in, or more than four in firebox and combustion chamber, take it out of service."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """What stands against a limit. `places` are the broken stays it is about."""

    words: str
    places: tuple[Place, ...]
    cited: str


def patterns(stays: Sequence[Stay], grid: Grid, limit: PatternLimit, elsewhere: int = 0) -> list[Pattern]:
    """Every pair of broken stays too near each other, and too many in all; exactly at the distance counts as too near.

    `elsewhere` are broken stays on the other plates of the same firebox, which count in the number in all.
    """
    broken = sorted(stay.place for stay in stays if stay.broken)
    found = []
    if limit.apart is not None:
        for one, other in combinations(broken, 2):
            if grid.distance(one, other) <= exact(limit.apart, "The distance"):
                words = "next to each other" if other in beside(one) else "too near each other"
                found.append(Pattern(words=f"Two broken stays are {words}.", places=(one, other), cited=limit.cited))
    alone = [group for group in broken_groups(stays) if not _round(group, {stay.place for stay in stays})]
    for group in alone:
        words = "No sound stay is beside these: nothing on the map carries their load."
        found.append(Pattern(words=words, places=tuple(sorted(group)), cited="plain statics"))
    number = len(broken) + elsewhere
    if limit.in_all is not None and number > limit.in_all:
        words = f"{number} stays count as broken; {limit.in_all} is the most."
        found.append(Pattern(words=words, places=tuple(broken), cited=limit.cited))
    return found


def adjacent_pairs(stays: Sequence[Stay]) -> list[tuple[Place, Place]]:
    """Broken stays side by side, in any regime a reason to look at the plate between them (common practice)."""
    broken = {stay.place for stay in stays if stay.broken}
    return sorted((one, other) for one in broken for other in beside(one) if other in broken and one < other)


def counts(stays: Sequence[Stay]) -> Counter[Found]:
    return Counter(stay.found for stay in stays)


def to_order(stays: Sequence[Stay]) -> Counter[tuple[str, str, Number]]:
    """How many to make, by kind, material and root diameter: those broken, missing or leaking at their telltale.

    A plugged telltale is opened and an unread one read first; a wasted stay is the engineer's to decide.
    """
    return Counter((stay.kind, stay.material, stay.root) for stay in stays if stay.found in TO_RENEW)


def _placed(stays: Sequence[Stay], grid: Grid) -> dict[Place, Stay]:
    by_place = {stay.place: stay for stay in stays}
    if len(by_place) != len(stays):
        raise ValueError("Two stays are entered in one place.")
    for row, column in by_place:
        if row not in grid.rows or column not in grid.columns:
            raise ValueError(f"Row {row}, column {column} is not on the grid.")
    every = {(row, column) for row in grid.rows for column in grid.columns} - grid.none_meant
    if bare := sorted(every - by_place.keys()):
        row, column = bare[0]
        raise ValueError(f"Nothing is entered for row {row}, column {column}: enter a stay that is gone as missing.")
    return by_place


def _net(supported: Fraction, stay: Stay) -> Fraction:
    net = supported - stay.own_area
    if net <= 0:
        raise ValueError(f"The stay in row {stay.place[0]}, column {stay.place[1]} is larger than what it supports.")
    return net


def _loaded(stay: Stay, supported: Fraction, load: Fraction, thrown: Fraction, allowed: Fraction) -> Loaded:
    stress, more = load / stay.section, (load + thrown) / stay.section
    if stay.broken:
        verdict = Verdict.BROKEN
    elif more > allowed:
        verdict = Verdict.OVER
    else:
        verdict = Verdict.WARNING if thrown else Verdict.WITHIN
    return Loaded(
        stay=stay,
        supported=supported,
        load=load,
        stress=stress,
        thrown=thrown,
        stress_with_thrown=more,
        verdict=verdict,
    )
