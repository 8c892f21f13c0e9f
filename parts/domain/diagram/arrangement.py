"""Wheel arrangements as a drawing needs them: groups of axles, each with driven wheels, in Whyte or UIC notation.

Whyte's notation counts wheels and UIC's counts axles; an articulated locomotive has several groups. 0-4-4-0 and B'B'
are two groups under one boiler, 0-4-0+0-4-0 and B'+B' two engines with the boiler slung between them. Sources: the
public encyclopedia's articles "Whyte notation" and "UIC classification of locomotive axle arrangements".

Common practice, no source: the letters VB (vertical boiler), CT (crane tank, drawn without its crane) and F (fireless),
and where a carrying axle between two driven groups belongs. The letters of the tanks: `parts.domain.whyte`.
"""

import re
from dataclasses import dataclass, replace

from ..whyte import DASHES, Tank

TANKS = {"": Tank.TENDER, "T": Tank.SIDE, "ST": Tank.SADDLE, "PT": Tank.PANNIER, "WT": Tank.WELL, "CT": Tank.SIDE}
MOST_CARRYING, MOST_COUPLED, MOST_GROUPS = 3, 6, 3
WHYTE = re.compile(r"(?P<wheels>[0-9]{1,2}(?:-[0-9]{1,2}){2,}(?:\+[0-9]{1,2}(?:-[0-9]{1,2}){2})?)(?P<letters>[A-Z]*)")
UIC_UNIT = re.compile(r"\(?([0-9]?)'?\(?([A-F])'?\)?([0-9]?)'?\)?")
UIC_STEAM = re.compile(r"(?P<axles>[0-9A-F'()+]+)(?P<steam>[nh][0-9]?v?)?[GPS]{0,2}(?P<tank>t)?[GPS]{0,2}")


class ArrangementError(ValueError):
    """A wheel arrangement that cannot be drawn, with a sentence saying why."""


@dataclass(frozen=True, slots=True)
class AxleGroup:
    """One set of coupled axles and the carrying axles before and behind. Numbers are of axles."""

    leading: int
    coupled: int
    trailing: int

    @property
    def axles(self) -> int:
        return self.leading + self.coupled + self.trailing


@dataclass(frozen=True, slots=True)
class Arrangement:
    groups: tuple[AxleGroup, ...]
    tank: Tank
    slung: bool = False  # the boiler hangs between two engines
    vertical: bool = False
    fireless: bool = False

    @property
    def axles(self) -> int:
        return sum(group.axles for group in self.groups)

    @property
    def has_tender(self) -> bool:
        return self.tank is Tank.TENDER and not (self.slung or self.fireless)


def read(text: str) -> Arrangement:
    """Read 2-6-2T, 0-4-0VBT, 0-4-0F, 2-6-6-2, 0-4-0+0-4-0, C, 1'C1', (1'C)C1' or 2'C1'+1'C2'; spaces don't matter.

    Raises ArrangementError with a sentence where it can't be drawn.
    """
    written = "".join(text.split()).translate(DASHES).replace("’", "'").replace("′", "'")
    found = _whyte(written.upper()) or _uic(written)
    if not found:
        raise ArrangementError(
            f"“{text.strip()[:30]}” is not a wheel arrangement that can be drawn: write it like 0-6-0T, 2-6-6-2 or "
            "1'C1'."
        )
    _check(found, text)
    return found


def _whyte(written: str) -> Arrangement | None:
    shape = WHYTE.fullmatch(written)
    letters = shape and re.fullmatch(r"(VB)?(ST|PT|WT|CT|T)?(F)?", shape["letters"])
    if not shape or not letters:
        return None
    units = [[int(number) for number in unit.split("-")] for unit in shape["wheels"].split("+")]
    if any(number % 2 for unit in units for number in unit):
        raise ArrangementError(f"“{written[:30]}” has an odd number: Whyte notation counts wheels, two to an axle.")
    groups = tuple(group for unit in units for group in _groups([number // 2 for number in unit]))
    return Arrangement(
        groups, TANKS[letters[2] or ("T" if letters[1] else "")], slung=len(units) > 1, vertical=bool(letters[1]),
        fireless=bool(letters[3]),
    )  # fmt: skip


def _groups(axles: list[int]) -> tuple[AxleGroup, ...]:
    """Leading, one or more coupled, trailing: the carrying axles belong to the outer groups."""
    leading, *coupled, trailing = axles
    last = len(coupled) - 1
    return tuple(AxleGroup(leading * (n == 0), count, trailing * (n == last)) for n, count in enumerate(coupled))


def _uic(written: str) -> Arrangement | None:
    shape = UIC_STEAM.fullmatch(written)
    if not shape or not re.search("[A-F]", shape["axles"]):
        return None
    groups = tuple(group for unit in shape["axles"].split("+") for group in _uic_groups(unit))
    if not groups:
        return None
    tank = Tank.SIDE if shape["tank"] else Tank.TENDER
    return Arrangement(groups, tank, slung="+" in written)


def _uic_groups(unit: str) -> tuple[AxleGroup, ...]:
    """The groups of one unit; none where something in it is not understood."""
    found, at = [], 0
    while at < len(unit):
        match = UIC_UNIT.match(unit, at)
        if not match:
            return ()
        found.append(AxleGroup(int(match[1] or 0), ord(match[2]) - ord("A") + 1, int(match[3] or 0)))
        at = match.end()
    return tuple(found)


def _check(found: Arrangement, text: str) -> None:
    entered = text.strip()[:30]
    if len(found.groups) > MOST_GROUPS:
        raise ArrangementError(f"“{entered}” has more than {MOST_GROUPS} groups of driven wheels.")
    for group in found.groups:
        if not 1 <= group.coupled <= MOST_COUPLED or max(group.leading, group.trailing) > MOST_CARRYING:
            raise ArrangementError(
                f"“{entered}” cannot be drawn: a group has 1 to {MOST_COUPLED} driven axles and at most {MOST_CARRYING}"
                " carrying axles at either end."
            )


def as_tank(found: Arrangement, tank: Tank | None) -> Arrangement:
    """The same wheels with the kind of tank that is known from elsewhere."""
    return replace(found, tank=tank) if tank else found
