"""The spots of a locomotive that a template is laid out at: a side, an axle, a cylinder, an end, and all with all."""

from collections.abc import Iterator
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
    facts: frozenset[str] = frozenset()

    def agrees_with(self, other: "Spot") -> bool:
        """No word of the one contradicts a word of the other."""
        mine, theirs = (self.axle, self.inside, self.truck), (other.axle, other.inside, other.truck)
        return all(not here or not there or here == there for here, there in zip(mine, theirs, strict=True))

    def contains(self, inner: "Spot") -> bool:
        """The inner spot says at least what this one says."""
        mine = (self.side, self.axle, self.end, self.inside, self.truck)
        return all(
            not here or here == there
            for here, there in zip(mine, (inner.side, inner.axle, inner.end, inner.inside, inner.truck), strict=True)
        )


def spots(spec: LocomotiveSpec, scope: tuple[str, ...], ends: tuple[str, ...], within: Spot) -> tuple[Spot, ...]:
    """Every spot of the scope that lies within the spot of the subassembly's copy."""
    found = [within]
    for word in scope:
        found = [spot for start in found for spot in DIMENSIONS[word](spec, start)]
    if ends:
        named = [end for word in ends for end in (_buffer_ends(spec) if word == "ends" else (word,))]
        found = [replace(spot, end=end) for spot in found for end in named]
    return tuple(found)


def _sides(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    yield from (replace(start, side=side) for side in ("LH", "RH"))


def _at_axle(spec: LocomotiveSpec, start: Spot, axle: Axle) -> Spot:
    facts = {"coupled axle"} if axle.group == "coupled" else set()
    if axle.driven:
        facts |= {"driving axle"} | ({"crank axle"} if spec.inside_cylinders else set())
    return replace(start, axle=axle.name, facts=start.facts | facts)


def _axles(name: str):
    def at_axles(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
        for axle in getattr(spec, name):
            if start.axle in ("", axle.name) and start.truck in ("", axle.group):
                yield _at_axle(spec, start, axle)

    return at_axles


def _cylinders(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    for side, inside in spec.cylinders:
        if start.inside in ("", inside):
            yield replace(start, side=side, inside=inside, facts=start.facts | {f"{inside} cylinder"})


def _cylinder_groups(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    for inside in spec.cylinder_groups:
        yield replace(start, inside=inside, facts=start.facts | {f"{inside} cylinder"})


def _trucks(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """What belongs to the leading truck lies at the front of the locomotive."""
    for truck, kind in spec.trucks:
        end = {"leading": "front", "trailing": "rear"}[truck]
        yield replace(start, truck=truck, kind=kind, end=end, facts=start.facts | {kind})


def _rods(spec: LocomotiveSpec, start: Spot) -> Iterator[Spot]:
    """A coupling rod from each coupled axle to the next; the foremost carries both its bushes."""
    for number, (front, rear) in enumerate(pairwise(spec.coupled_axles)):
        which = "rear rod" if number else "front rod"
        yield replace(start, axle=f"{front.name} to {rear.name}", facts=start.facts | {which})


def _buffer_ends(spec: LocomotiveSpec) -> tuple[str, ...]:
    """The ends of the locomotive that carry buffers; with a tender, the tender carries the rear ones."""
    return ("front",) if spec.wheels.has_tender else ("front", "rear")


DIMENSIONS = {
    "side": _sides,
    "main axle": _axles("main_axles"),
    "coupled axle": _axles("coupled_axles"),
    "truck axle": _axles("truck_axles"),
    "tender axle": _axles("all_tender_axles"),
    "cylinder": _cylinders,
    "cylinder group": _cylinder_groups,
    "truck": _trucks,
    "rod": _rods,
}
