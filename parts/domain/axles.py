"""What the axles of a locomotive are called, from the leading end, in British or American words.

Common practice, no source: which coupled axle is driven when nobody says, the names of the axles.
"""

from dataclasses import dataclass

from .whyte import Whyte

ORDINALS = ("first", "second", "third", "fourth", "fifth")


@dataclass(frozen=True, slots=True)
class Axle:
    """One axle: its name, and whether it is coupled, driven, or belongs to a truck or the tender."""

    name: str
    group: str  # "coupled", "leading", "trailing", "tender"
    driven: bool = False


def usual_driven(wheels: Whyte) -> int:
    """The coupled axle that the connecting rods usually turn, counted from the leading end from 1."""
    if wheels.coupled_axles == 2:
        return 1 if wheels.leading or wheels.trailing == 4 else 2
    return {1: 1, 3: 2, 4: 3, 5: 3}[wheels.coupled_axles]


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


def carrying_axles(wheels: Whyte, *, british: bool) -> tuple[Axle, ...]:
    both_bogies = wheels.leading == wheels.trailing == 4
    return (
        *_truck("leading", wheels.leading_axles, both_bogies, british),
        *_truck("trailing", wheels.trailing_axles, both_bogies, british),
    )


def _truck(group: str, count: int, both_bogies: bool, british: bool) -> tuple[Axle, ...]:
    if not british:
        names = [f"{group} truck"] if count == 1 else [f"{group} truck No. {n}" for n in range(1, count + 1)]
    elif count == 1:
        names = [f"{group} carrying"]
    else:
        bogie = f"{group} bogie" if both_bogies else "bogie"
        names = [f"{bogie} leading", f"{bogie} trailing"][:count]
    return tuple(Axle(name, group) for name in names)


def tender_axles(count: int, *, british: bool) -> tuple[Axle, ...]:
    if not british:
        names = [f"tender No. {n}" for n in range(1, count + 1)]
    else:
        names = {
            2: ["tender leading", "tender trailing"],
            3: ["tender leading", "tender middle", "tender trailing"],
            4: ["tender leading", "tender second", "tender third", "tender trailing"],
        }.get(count, [])
    return tuple(Axle(name, "tender") for name in names)
