"""The spots of a locomotive that a template is laid out at: a side, an axle, a cylinder, an end, and all with all."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from .axles import Axle
from .spec import LocomotiveSpec


@dataclass(frozen=True, slots=True)
class Spot:
    """Where on the locomotive; a blank is not narrowed down. `facts` are words that a condition may ask for here."""

    side: str = ""
    axle: str = ""
    end: str = ""
    inside: str = ""
    truck: str = ""  # leading, trailing
    kind: str = ""  # of the truck: pony, bogie
    unit: str = ""  # front engine, rear engine; blank where there is only one
    facts: frozenset[str] = frozenset()

    def agrees_with(self, other: "Spot") -> bool:
        """No word of the one contradicts a word of the other."""
        return (
            (not self.axle or not other.axle or self.axle == other.axle)
            and (not self.inside or not other.inside or self.inside == other.inside)
            and (not self.truck or not other.truck or self.truck == other.truck)
            and (not self.unit or not other.unit or self.unit == other.unit)
        )

    def contains(self, inner: "Spot") -> bool:
        """The inner spot says at least what this one says."""
        return (
            (not self.side or self.side == inner.side)
            and (not self.axle or self.axle == inner.axle)
            and (not self.end or self.end == inner.end)
            and (not self.inside or self.inside == inner.inside)
            and (not self.truck or self.truck == inner.truck)
            and (not self.unit or self.unit == inner.unit)
        )


def spots(spec: LocomotiveSpec, scope: tuple[str, ...], ends: tuple[str, ...], within: Spot) -> tuple[Spot, ...]:
    """Every spot of the scope that lies within the spot of the subassembly's copy."""
    found = [within]
    for word in scope:
        found = [spot for start in found for spot in DIMENSIONS[word](spec, start)]
    if ends:
        found = [
            replace(spot, end=end)
            for spot in found
            for word in ends
            for end in (_buffer_ends(spec, spot) if word == "ends" else (word,))
        ]
    return tuple(found)


def _sides(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    yield from (replace(start, side=side) for side in ("LH", "RH"))


def _at_axle(spec: LocomotiveSpec, start: Spot, axle: Axle) -> Spot:
    facts = {"coupled axle"} if axle.group == "coupled" else set()
    facts |= {"driving axle"} if axle.driven else set()
    facts |= {"crank axle"} if spec.inside_cylinders and axle.name in spec.driven_by("inside") else set()
    facts |= {"motor axle"} if axle.motor or spec.motor_in(axle) else set()
    return replace(start, axle=axle.name, unit=axle.unit or start.unit, facts=start.facts | facts)


def _axles(name: str) -> Callable[[LocomotiveSpec, Spot], Iterator[Spot]]:
    def at_axles(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
        for axle in getattr(spec, name):
            if (
                start.axle in ("", axle.name)
                and start.truck in ("", axle.group)
                and (not axle.unit or start.unit in ("", axle.unit))
            ):
                yield _at_axle(spec, start, axle)

    return at_axles


def _cylinders(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    for at in _units(spec, start):
        for side, inside in spec.cylinders:
            if start.inside in ("", inside):
                facts = {f"{inside} cylinder"} | ({"its axle"} if at.axle in spec.driven_by(inside) else set())
                yield replace(at, side=side, inside=inside, facts=at.facts | facts)


def _cylinder_groups(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    for at in _units(spec, start):
        for inside in spec.cylinder_groups:
            if start.inside in ("", inside):
                yield replace(at, inside=inside, facts=at.facts | {f"{inside} cylinder"})


def _trucks(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """What belongs to the leading truck lies at the front of the locomotive."""
    for unit, truck, kind in spec.trucks:
        if start.unit in ("", unit) and start.truck in ("", truck):
            end = {"leading": "front", "trailing": "rear"}[truck]
            yield replace(start, unit=unit, truck=truck, kind=kind, end=end, facts=start.facts | {kind})


def _rods(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """A coupling rod from each coupled axle to the next; the foremost of an engine unit carries both its bushes."""
    for unit, _ in spec.units:
        if start.unit not in ("", unit):
            continue
        of_unit = [axle for axle in spec.coupled_axles if axle.unit == unit]
        for number, (front, rear) in enumerate(pairwise(of_unit)):
            which = "rear rod" if number else "front rod"
            name = f"{front.name} to {rear.name.removeprefix(f'{unit} ')}"
            yield replace(start, axle=name, unit=unit, facts=start.facts | {which})


def _units(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """Each engine unit; where there is one, nothing is narrowed down."""
    last = len(spec.units) - 1
    for number, (unit, _) in enumerate(spec.units):
        if start.unit in ("", unit):
            facts = ({"first unit"} if number == 0 else set()) | ({"last unit"} if number == last else set())
            yield replace(start, unit=unit, facts=start.facts | facts)


def _boiler_halves(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """A double boiler has barrel, firebox and smokebox over each engine unit; any other boiler has one of each."""
    yield from _units(spec, start) if "Fairlie" in spec.facts else (start,)


def _frames(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """Each main frame: that of each engine unit, or the one rigid frame of a duplex."""
    if "duplex" not in spec.facts:
        yield from _units(spec, start)
    else:
        yield replace(start, facts=start.facts | {"first unit", "last unit"})


def _buffer_ends(spec: LocomotiveSpec, spot: Spot) -> tuple[str, ...]:
    """The ends of the locomotive that carry buffers; with a tender, the tender carries the rear ones."""
    names = [name for name, _ in spec.units]
    front = spot.unit in ("", names[0])
    rear = spot.unit in ("", names[-1]) and not spec.has_tender
    return (("front",) if front else ()) + (("rear",) if rear else ())


DIMENSIONS = {
    "side": _sides,
    "main axle": _axles("main_axles"),
    "coupled axle": _axles("coupled_axles"),
    "braked axle": _axles("braked_axles"),
    "truck axle": _axles("truck_axles"),
    "tender axle": _axles("all_tender_axles"),
    "cylinder": _cylinders,
    "cylinder group": _cylinder_groups,
    "truck": _trucks,
    "rod": _rods,
    "unit": _units,
    "frame": _frames,
    "boiler half": _boiler_halves,
}
