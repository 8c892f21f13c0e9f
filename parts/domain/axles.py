"""What the axles of a locomotive are called, from the leading end, in British or American words.

Common practice, no source: which coupled axle is driven when nobody says, the names of the axles.
"""

from dataclasses import dataclass, replace

from .whyte import EngineUnit

ORDINALS = ("first", "second", "third", "fourth", "fifth")


@dataclass(frozen=True, slots=True)
class Axle:
    """One axle: its name, whether rods couple it or drive it or a motor turns it, and what it belongs to."""

    name: str
    group: str  # "coupled", "carrying", "leading", "trailing", "tender"
    driven: bool = False
    motor: bool = False
    unit: str = ""  # the engine unit, of several

    def of_unit(self, unit: str) -> "Axle":
        return replace(self, name=f"{unit} {self.name}", unit=unit) if unit else self


def usual_driven(unit: EngineUnit) -> int:
    """The coupled axle that the connecting rods usually turn, counted from the leading end from 1."""
    count = unit.coupled // 2
    if count == 2:
        return 1 if unit.leading or unit.trailing == 4 else 2
    return {1: 1, 3: 2, 4: 3, 5: 3}[count]


def coupled_axles(count: int, driven: int, *, british: bool) -> tuple[Axle, ...]:
    names = _british_coupled(count, driven) if british else [f"No. {n}" for n in range(1, count + 1)]
    if not british:
        names[driven - 1] = "main"
    return tuple(Axle(name, "coupled", driven=n == driven) for n, name in enumerate(names, 1))


def _british_coupled(count: int, driven: int) -> list[str]:
    """Leading, driving, trailing; those between are intermediate, or counted where two stand side by side."""
    names = [ORDINALS[n] for n in range(count)]
    names[0], names[-1], names[driven - 1] = "leading", "trailing", "driving"
    ahead, behind = range(1, driven - 1), range(driven, count - 1)
    if len(ahead) == 1 and len(behind) == 1:
        names[ahead[0]], names[behind[0]] = "leading intermediate", "trailing intermediate"
    elif len(ahead) + len(behind) == 1:
        names[(*ahead, *behind)[0]] = "intermediate"
    return names


def uncoupled_axles(count: int, *, motors: bool, british: bool) -> tuple[Axle, ...]:
    """The axles in the frame of a vehicle that no rods couple."""
    return tuple(Axle(name, "carrying", motor=motors) for name in _in_a_row(count, british))


def carrying_axles(unit: EngineUnit, *, british: bool) -> tuple[Axle, ...]:
    both_bogies = unit.leading >= 4 and unit.trailing >= 4
    return (
        *_truck("leading", unit.leading // 2, both_bogies, british),
        *_truck("trailing", unit.trailing // 2, both_bogies, british),
    )


def _truck(group: str, count: int, both_bogies: bool, british: bool) -> tuple[Axle, ...]:
    if not british:
        names = [f"{group} truck"] if count == 1 else [f"{group} truck No. {n}" for n in range(1, count + 1)]
    elif count == 1:
        names = [f"{group} carrying"]
    else:
        bogie = f"{group} bogie" if both_bogies else "bogie"
        names = [f"{bogie} {name}" for name in _in_a_row(count, british)]
    return tuple(Axle(name, group) for name in names)


def tender_axles(count: int, *, british: bool) -> tuple[Axle, ...]:
    return tuple(Axle(f"tender {name}", "tender") for name in _in_a_row(count, british))


def _in_a_row(count: int, british: bool) -> list[str]:
    """Leading, middle, trailing, or leading, second, third … trailing."""
    if not british:
        return [f"No. {n}" for n in range(1, count + 1)]
    if count == 1:
        return ["only"]
    between = ["middle"] if count == 3 else ["second", "third", "fourth", "fifth"][: count - 2]
    return ["leading", *between, "trailing"][:count] if count else []
