"""Typical proportions of steam locomotives, by gauge and wheels, in mm.

All of it is common practice, no source: relations that make a drawing look right, never dimensions to work to. What is
known of a locomotive always goes before what is usual.
"""

from dataclasses import dataclass

from .arrangement import Arrangement, AxleGroup
from .engine import Engine

STANDARD_MM = 1435


@dataclass(frozen=True, slots=True)
class Proportions:
    """The sizes that everything else follows from. `unit` is 1 mm of a standard-gauge locomotive."""

    unit: float
    height: float  # nothing stands higher above the rail
    driving: float  # diameters
    leading: float
    trailing: float
    tender: float
    crank: float  # radius of the crank pins
    plate: float  # top of the running plate above the rail
    buffer: float  # centre of the buffers or coupler above the rail
    boiler: float  # diameter over the cladding
    pitch: float  # centre of the boiler above the rail
    chimney_top: float
    couples_in_the_middle: bool

    def mm(self, standard: float) -> float:
        """What is this long on a standard-gauge locomotive."""
        return standard * self.unit

    @property
    def roof(self) -> float:
        return max(min(self.chimney_top * 0.97, self.height - 30), self.boiler_top + self.mm(120))

    @property
    def boiler_top(self) -> float:
        return self.pitch + self.boiler / 2

    @property
    def half_cylinder(self) -> float:
        """Half the length of a cylinder over its covers."""
        return self.crank * 1.35 + self.mm(60)


def loading_height(gauge_mm: float) -> float:
    """How high a railway of this gauge usually lets its locomotives be."""
    return min(1815 + 1.453 * gauge_mm, 5 * gauge_mm)


def sizes(engine: Engine, wheels: Arrangement) -> Proportions:
    unit = (engine.gauge_mm / STANDARD_MM) ** 0.6
    height = loading_height(engine.gauge_mm)
    largest = max(wheels.groups, key=lambda group: group.coupled)
    driving = _likely(engine.driving_mm, height) or min(_driving(wheels, largest) * unit, height * 0.55)
    small = engine.gauge_mm < 1200
    centre = engine.centre_coupler if engine.centre_coupler is not None else small
    buffer = (900 if small else 1050) * unit
    plate = max(buffer + 200 * unit, driving * 0.62)
    boiler = _boiler(wheels) * unit
    chimney_top = height * min(0.85 + 0.035 * max(group.axles for group in wheels.groups), 0.99)
    lowest_pitch = plate + boiler * 0.5 + 110 * unit
    usual_pitch = max(lowest_pitch, driving * 0.8 + boiler * 0.62, height * (0.505 + 0.02 * min(wheels.axles, 7)))
    pitch = max(min(usual_pitch, chimney_top - boiler / 2 - 420 * unit), plate + boiler * 0.42)
    return Proportions(
        unit=unit,
        height=height,
        driving=driving,
        leading=_likely(engine.leading_mm, height) or _leading(largest, driving, unit),
        trailing=_likely(engine.trailing_mm, height) or min(1050 * unit, driving * 0.8),
        tender=_likely(engine.tender_mm, height) or 1120 * unit,
        crank=min(driving * 0.2, 350 * max(unit, 0.7)),
        plate=plate,
        buffer=buffer,
        boiler=boiler,
        pitch=pitch,
        chimney_top=max(chimney_top, pitch + boiler / 2 + 250 * unit),
        couples_in_the_middle=centre,
    )


def _likely(diameter_mm: float, height: float) -> float:
    """A diameter as it is known, 0 where it is not; the nearest likely one where no locomotive could have it."""
    return diameter_mm and min(max(diameter_mm, height * 0.11), height * 0.6)


def _driving(wheels: Arrangement, group: AxleGroup) -> float:
    """Usual diameter of the driving wheels at standard gauge: few coupled axles run fast, many pull."""
    if len(wheels.groups) > 1:
        return 1150 if group.coupled < 3 else 1300
    fast = min(group.leading, 2) + (group.trailing > 0) * 0.5
    if wheels.has_tender:
        return {1: 2150, 2: 1500 + 220 * fast, 3: 1450 + 190 * fast}.get(group.coupled, 1400 + 30 * fast)
    return {1: 1650, 2: 1050 + 260 * fast, 3: 1230 + 130 * fast}.get(group.coupled, 1200 + 60 * fast)


def _leading(group: AxleGroup, driving: float, unit: float) -> float:
    return min((920 if group.leading == 1 else 970) * unit, driving * 0.72)


def _boiler(wheels: Arrangement) -> float:
    if wheels.fireless:
        return 1750
    if wheels.slung:
        return 1350 + 150 * wheels.groups[0].coupled
    if len(wheels.groups) > 1:
        return min(1150 + 90 * wheels.axles, 1900)
    tank = 0 if wheels.has_tender else -80
    return min(max(1080 + 110 * wheels.axles + tank, 1150), 1800)


def coupled_spacing(group: AxleGroup, size: Proportions, *, tank: bool) -> float:
    """From one coupled axle to the next."""
    gap = {2: 720, 3: 560, 4: 260, 5: 170}.get(group.coupled, 150) * size.unit
    if size.driving > 1480 * size.unit:
        gap *= 0.62
    elif not tank and group.coupled == 3:
        gap *= 1.35
    return size.driving + max(gap, 90 * size.unit)


def slide_bars(size: Proportions) -> float:
    return 3.4 * size.crank + size.mm(80)


def least_drive(size: Proportions) -> float:
    """The least from a cylinder's centre to the driven axle, so that the connecting rod is not too short."""
    return size.half_cylinder + 6.6 * size.crank
