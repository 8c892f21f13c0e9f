"""A part of the drawing: what of it is filled, what is only a line, and its wheels."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from .pen import Box, Path


@dataclass(frozen=True, slots=True)
class Wheels:
    """Wheels of one part. Where they are solid, tyres and spokes are broad lines, and light shows between them."""

    treads: Path  # the outer circle
    tyres: Path  # the line between tyre and rim, and the middle of the broad line that is both
    rims: Path  # the inner edge of the rim
    spokes: Path
    lumps: Path  # boss, crank and balance weight: filled where solid
    tyre_width: float  # mm
    spoke_width: float

    def mapped(self, change: Callable[[Path], Path]) -> "Wheels":
        return replace(
            self,
            treads=change(self.treads),
            tyres=change(self.tyres),
            rims=change(self.rims),
            spokes=change(self.spokes),
            lumps=change(self.lumps),
        )

    def __add__(self, other: "Wheels") -> "Wheels":
        return replace(
            self,
            treads=self.treads + other.treads,
            tyres=self.tyres + other.tyres,
            rims=self.rims + other.rims,
            spokes=self.spokes + other.spokes,
            lumps=self.lumps + other.lumps,
        )


@dataclass(frozen=True)
class Drawn:
    """One part's shape. Several of the same part are drawn as one.

    `body` is filled; its outlines run clockwise, so that two that overlap do not cancel out. With `openings`, an
    outline inside another is a hole. `detail` is lines, which show white in the solid.
    """

    part: str
    body: Path = Path()
    detail: Path = Path()
    wheels: Wheels | None = None
    openings: bool = False
    small: bool = True  # is drawn on a phone, too

    def mapped(self, change: Callable[[Path], Path]) -> "Drawn":
        wheels = self.wheels and self.wheels.mapped(change)
        return replace(self, body=change(self.body), detail=change(self.detail), wheels=wheels)

    @property
    def outline(self) -> Path:
        return self.body + (self.wheels.treads if self.wheels else Path())

    @cached_property
    def box(self) -> Box:
        return self.outline.box()

    def __add__(self, other: "Drawn") -> "Drawn":
        wheels = self.wheels + other.wheels if self.wheels and other.wheels else self.wheels or other.wheels
        return Drawn(
            self.part, self.body + other.body, self.detail + other.detail, wheels,
            self.openings or other.openings, self.small or other.small,
        )  # fmt: skip


def one_a_part(found: Iterable[Drawn]) -> dict[str, Drawn]:
    """Every part once, in the order in which they are first seen, from the back to the front of the drawing."""
    parts: dict[str, Drawn] = {}
    for drawn in found:
        parts[drawn.part] = parts[drawn.part] + drawn if drawn.part in parts else drawn
    return parts
