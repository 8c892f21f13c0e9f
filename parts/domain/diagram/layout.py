"""Where the axles and the body of a locomotive stand, in mm from its front coupling face to the rear.

Common practice, no source: overhangs, clearances and where a boiler, cab and tanks begin and end.
"""

from dataclasses import dataclass, field, replace

from ..whyte import Tank
from .arrangement import Arrangement, AxleGroup
from .engine import Engine
from .pen import Path
from .proportions import Proportions, coupled_spacing, least_drive

UNIT_NAMES = {1: ("",), 2: ("front", "rear"), 3: ("front", "middle", "rear")}


@dataclass(frozen=True, slots=True)
class Axle:
    x: float
    diameter: float
    group: str  # leading, coupled, trailing, tender
    driven: bool = False

    @property
    def radius(self) -> float:
        return self.diameter / 2


@dataclass(frozen=True, slots=True)
class DrawnUnit:
    """One engine: its axles, cylinders and frames, as if it faced left with its first coupled axle at 0."""

    axles: tuple[Axle, ...]
    cylinder_x: float
    front: float  # of the frames
    rear: float
    at: float = 0  # where its 0 stands on the locomotive
    faces_rear: bool = False
    name: str = ""  # front, middle or rear, where there are several

    def of(self, group: str) -> tuple[Axle, ...]:
        return tuple(axle for axle in self.axles if axle.group == group)

    @property
    def driven(self) -> Axle:
        return next(axle for axle in self.axles if axle.driven)

    def x(self, x: float) -> float:
        return self.at + (-x if self.faces_rear else x)

    def place(self, path: Path) -> Path:
        """A path drawn in the unit's own coordinates, where it stands on the locomotive."""
        return (path.mirrored() if self.faces_rear else path).shifted(self.at)

    @property
    def ends(self) -> tuple[float, float]:
        one, other = self.x(self.front), self.x(self.rear)
        return min(one, other), max(one, other)


@dataclass(frozen=True, slots=True)
class Body:
    """What stands on the frames. A length that does not exist is nought long."""

    smokebox: tuple[float, float]
    barrel: tuple[float, float]
    firebox: tuple[float, float]
    chimney_x: float
    cab: tuple[float, float]
    tanks: tuple[tuple[float, float], ...]
    bunker: tuple[float, float]
    plates: tuple[tuple[float, float], ...]  # running plates
    beams: tuple[float, float]  # front and rear of the locomotive over its beams


@dataclass(frozen=True, slots=True)
class Tender:
    front: float
    rear: float
    axles: tuple[Axle, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    engine: Engine
    wheels: Arrangement
    size: Proportions
    units: tuple[DrawnUnit, ...]
    body: Body
    tender: Tender | None = None
    axles: tuple[Axle, ...] = field(default=())  # all of them, from the front

    @property
    def rear(self) -> float:
        return self.tender.rear if self.tender else self.body.beams[1]


def lay_out(engine: Engine, wheels: Arrangement, size: Proportions) -> Layout:
    units = _slung_units(engine, wheels, size) if wheels.slung else _units_in_line(engine, wheels, size)
    units = tuple(replace(unit, name=name) for unit, name in zip(units, UNIT_NAMES[len(units)], strict=True))
    body = _body(engine, wheels, size, units)
    tender = _tender(engine, size, body.beams[1]) if wheels.has_tender else None
    axles = [Axle(unit.x(axle.x), axle.diameter, axle.group, axle.driven) for unit in units for axle in unit.axles]
    axles += tender.axles if tender else ()
    return Layout(engine, wheels, size, units, body, tender, tuple(sorted(axles, key=lambda axle: axle.x)))


def _units_in_line(engine: Engine, wheels: Arrangement, size: Proportions) -> tuple[DrawnUnit, ...]:
    units: list[DrawnUnit] = []
    for n, group in enumerate(wheels.groups):
        unit = _unit(engine, group, size, tank=not wheels.has_tender, last=n == len(wheels.groups) - 1, inner=n > 0)
        at = units[-1].at + units[-1].rear + size.mm(60) - unit.front if units else -unit.front
        units.append(replace(unit, at=at))
    return tuple(units)


def _slung_units(engine: Engine, wheels: Arrangement, size: Proportions) -> tuple[DrawnUnit, ...]:
    ahead, behind = wheels.groups[0], wheels.groups[-1]
    front = _unit(engine, ahead, size, tank=True, last=True)
    turned = AxleGroup(behind.trailing, behind.coupled, behind.leading)
    rear = _unit(engine, turned, size, tank=True, last=True)
    between = size.mm(3900 + 780 * max(ahead.coupled, behind.coupled))
    first = replace(front, at=-front.front)
    return first, replace(rear, at=first.ends[1] + between + rear.rear, faces_rear=True)


def _unit(
    engine: Engine, group: AxleGroup, size: Proportions, *, tank: bool, last: bool, inner: bool = False
) -> DrawnUnit:
    spacing = coupled_spacing(group, size, tank=tank)
    driven = _driven(engine, group)
    coupled = [Axle(n * spacing, size.driving, "coupled", n == driven - 1) for n in range(group.coupled)]
    cylinder_x = _cylinder_x(engine, group, size, coupled[driven - 1].x)
    leading = _leading(group, size, cylinder_x)
    trailing = _trailing(group, size, coupled[-1].x)
    front = _front(engine, size, leading, cylinder_x, inner=inner)
    rear = _rear(group, size, (coupled + trailing)[-1], tank=tank, last=last)
    return DrawnUnit((*leading, *coupled, *trailing), cylinder_x, front, rear)


def _driven(engine: Engine, group: AxleGroup) -> int:
    if 1 <= engine.driven_axle <= group.coupled:
        return engine.driven_axle
    if group.coupled == 2:
        return 1 if group.leading or group.trailing >= 2 else 2
    return {1: 1, 3: 2, 4: 3, 5: 3, 6: 4}[group.coupled]


def _cylinder_x(engine: Engine, group: AxleGroup, size: Proportions, driven_x: float) -> float:
    clear = size.driving / 2 + size.half_cylinder + size.mm(130)
    if group.leading >= 2:  # over the middle of the bogie
        clear = max(clear, size.leading * 1.07 + size.driving / 2 + size.mm(1120))
    elif group.leading:
        clear += size.mm(330)
    if not engine.outside_cylinders:
        return -max(clear, size.driving / 2 + size.mm(650))
    return -max(clear, least_drive(size) - driven_x)


def _leading(group: AxleGroup, size: Proportions, cylinder_x: float) -> list[Axle]:
    spacing = size.leading + size.mm(960)
    if group.leading == 1:
        xs = [min(cylinder_x - size.mm(120), -size.driving / 2 - size.leading / 2 - size.mm(500))]
    else:
        xs = [cylinder_x + (n - (group.leading - 1) / 2) * spacing for n in range(group.leading)]
    return [Axle(x, size.leading, "leading") for x in xs]


def _trailing(group: AxleGroup, size: Proportions, last_x: float) -> list[Axle]:
    first = last_x + size.driving / 2 + size.trailing / 2 + size.mm(620 if group.trailing == 1 else 420)
    spacing = size.trailing + size.mm(640)
    return [Axle(first + n * spacing, size.trailing, "trailing") for n in range(group.trailing)]


def _front(engine: Engine, size: Proportions, leading: list[Axle], cylinder_x: float, *, inner: bool) -> float:
    """The front of the frames, ahead of cylinders and wheels."""
    if inner:
        return cylinder_x - size.half_cylinder - size.mm(40)
    foremost = min((axle.x - axle.radius for axle in leading), default=cylinder_x)
    beyond_cylinder = size.half_cylinder + size.mm(380) if engine.outside_cylinders else size.mm(650)
    return min(foremost - size.mm(230), cylinder_x - beyond_cylinder)


def _rear(group: AxleGroup, size: Proportions, hindmost: Axle, *, tank: bool, last: bool) -> float:
    if not last:
        return hindmost.x + hindmost.radius + size.mm(60)
    if not tank:
        return hindmost.x + hindmost.radius + size.mm(280 if group.trailing else 620)
    return hindmost.x + hindmost.radius + size.mm(420 if group.trailing else 960)


def _body(engine: Engine, wheels: Arrangement, size: Proportions, units: tuple[DrawnUnit, ...]) -> Body:
    if wheels.slung:
        return _slung_body(size, units)
    if wheels.vertical:
        return _vertical_body(size, units)
    front, rear = units[0].ends[0], units[-1].ends[1]
    chimney_x = units[0].x(units[0].cylinder_x)
    bunker = _bunker_length(wheels, size)
    cab_rear = rear - bunker
    cab_front = cab_rear - size.mm(1250 if wheels.axles < 3 else 1500 if wheels.has_tender else 1620)
    length = size.boiler * (0.62 if not engine.superheated else 0.85) + size.mm(80 * max(wheels.axles - 3, 0))
    smokebox_front = max(chimney_x - length * 0.5, front + size.mm(140))
    smokebox_rear = smokebox_front + length
    fire = size.boiler * 0.72 + size.mm(90 * wheels.groups[-1].trailing)
    firebox_front = max(cab_front - fire, smokebox_rear + size.mm(900))
    return Body(
        smokebox=(smokebox_front, smokebox_rear),
        barrel=(smokebox_rear, firebox_front),
        firebox=(firebox_front, cab_front + size.mm(420)),
        chimney_x=chimney_x if abs(chimney_x - smokebox_front - length / 2) < length * 0.4
        else smokebox_front + length / 2,
        cab=(cab_front, cab_rear),
        tanks=_tanks(wheels, size, units[0], smokebox_front, smokebox_rear, cab_front),
        bunker=(cab_rear, rear) if bunker else (rear, rear),
        plates=((front, rear),),
        beams=(front, rear),
    )  # fmt: skip


def _bunker_length(wheels: Arrangement, size: Proportions) -> float:
    if wheels.has_tender or wheels.fireless:
        return size.mm(0)
    trailing = wheels.groups[-1].trailing
    behind = {0: 700, 1: 1250}.get(trailing, 1550)
    return size.mm(behind if wheels.axles > 2 else 480)


def _tanks(
    wheels: Arrangement, size: Proportions, unit: DrawnUnit, box_front: float, box_rear: float, cab_front: float
) -> tuple[tuple[float, float], ...]:
    kind = Tank.TENDER if wheels.fireless else wheels.tank
    if kind is Tank.SIDE:
        length = cab_front - box_rear
        return ((box_rear + min(length * 0.16, size.mm(500)), cab_front),)
    if kind is Tank.SADDLE:
        return ((box_rear + size.mm(60), cab_front - size.mm(120)),)
    if kind is Tank.PANNIER:
        return ((box_front + size.mm(120), cab_front),)
    if kind is Tank.WELL:
        axles = unit.of("coupled")
        return ((unit.x(axles[0].x) - size.driving * 0.35, unit.x(axles[-1].x) - size.driving * 0.15),)
    return ()


def _slung_body(size: Proportions, units: tuple[DrawnUnit, ...]) -> Body:
    """Boiler and cab on a cradle between two engines; water over the front one, water and coal over the rear one."""
    (front, ahead), (behind, rear) = units[0].ends, units[-1].ends
    pivot, hind_pivot = ahead - size.mm(380), behind + size.mm(380)
    cab_front = hind_pivot - size.mm(1750)
    smokebox_rear = pivot + size.boiler * 0.6
    firebox_front = cab_front - size.boiler * 0.8
    return Body(
        smokebox=(pivot + size.mm(60), smokebox_rear),
        barrel=(smokebox_rear, firebox_front),
        firebox=(firebox_front, cab_front + size.mm(420)),
        chimney_x=pivot + size.mm(60) + (smokebox_rear - pivot) * 0.5,
        cab=(cab_front, hind_pivot - size.mm(120)),
        tanks=((front + size.mm(420), pivot - size.mm(160)),),
        bunker=(hind_pivot + size.mm(40), rear - size.mm(420)),
        plates=((front, ahead), (behind, rear)),
        beams=(front, rear),
    )


def _vertical_body(size: Proportions, units: tuple[DrawnUnit, ...]) -> Body:
    front, rear = units[0].ends[0], units[-1].ends[1]
    boiler = rear - size.mm(1500)
    return Body(
        smokebox=(boiler, boiler), barrel=(boiler - size.boiler * 0.46, boiler + size.boiler * 0.46),
        firebox=(boiler, boiler), chimney_x=boiler, cab=(boiler - size.mm(1500), rear - size.mm(120)),
        tanks=((front + size.mm(350), boiler - size.mm(1650)),), bunker=(rear, rear),
        plates=((front, rear),), beams=(front, rear),
    )  # fmt: skip


def _tender(engine: Engine, size: Proportions, engine_rear: float) -> Tender:
    count = min(max(engine.tender_axles, 2), 6)
    front = engine_rear + size.mm(190)
    spacing = {2: 2300, 3: 1980, 4: 1650, 5: 1480, 6: 1420}[count] * size.unit
    bogies = count in (4, 6)
    xs, x = [], front + size.mm(1050)
    for n in range(count):
        xs.append(x)
        x += spacing * (1.35 if bogies and n == count // 2 - 1 else 1)
    axles = tuple(Axle(x, min(size.tender, spacing - size.mm(120)), "tender") for x in xs)
    return Tender(front, xs[-1] + size.mm(1050), axles)
