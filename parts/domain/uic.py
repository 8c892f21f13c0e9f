"""Wheel arrangements in UIC notation: 1'C1' is three coupled axles and at each end one axle in a truck of its own.

It counts axles: a number for carrying axles, a letter for driven ones (C is three), an o behind the letter where each
axle has its own motor, a prime or brackets round what has a frame of its own, a plus sign between engine units that
stand whole beside each other. Source: the public encyclopedia's article "UIC classification of locomotive axle
arrangements"; its examples are checked beside the code. A hyphen for the prime (Bo-Bo) and t for a tank locomotive:
the same article.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from .choices import Articulation, Boiler
from .whyte import DASHES, EngineUnit, Tank, Whyte, WhyteError, short

PRIMES = str.maketrans("’‘′´`ʹ", "''''''")
GROUP = re.compile(r"(?P<carrying>[1-4])|(?P<driven>[A-H])(?P<motors>o?)")
MOST_CARRYING, MOST_DRIVEN, MOST_IN_TRUCK = 2, 5, 4


@dataclass(frozen=True, slots=True)
class FrameGroup:
    """Axles that stand together in one frame: how many, and whether they are driven, by motors of their own or rods."""

    axles: int
    driven: bool
    motors: bool = False
    own_frame: bool = False


Parsed = list["FrameGroup | list[FrameGroup]"]  # a list is a bracket


def is_uic(text: str) -> bool:
    """Whether it is written so, and not in Whyte's way: a letter for driven axles, a prime, or one small number."""
    plain = _plain(text)
    return bool(re.match(r"\(*[1-4]?'?[A-H]|\(*[1-4]'|[1-4]$", plain)) and not re.match(r"\(*[0-9]+-", plain)


def parse_uic(text: str, *, steam: bool = True) -> Whyte:
    """Read UIC notation. Without steam, or where nothing is turned by rods from cylinders, it is that of a vehicle."""
    plain = _plain(text)
    tank, body = plain.endswith("t"), plain.removesuffix("t")
    units = [list(_groups(text, part)) for part in _hyphens(body).split("+")]
    flat = [group for unit in units for part in unit for group in (part if isinstance(part, list) else [part])]
    if not all(units):
        raise _unread(text)
    if not steam or not any(group.driven for group in flat) or any(group.motors for group in flat) or _mixed(units):
        return _vehicle(text, units)
    return _locomotive(text, units, Tank.SIDE if tank else Tank.TENDER)


def _mixed(units: list[Parsed]) -> bool:
    """A truck with several driven groups, such as (A1A), has motors, whether it says so or not."""
    return any(
        isinstance(part, list) and sum(group.driven for group in part) > 1 for unit in units for part in unit
    )  # fmt: skip


def _plain(text: str) -> str:
    return "".join(text.split()).translate(DASHES).translate(PRIMES).replace("''", "'")


def _hyphens(body: str) -> str:
    """Bo-Bo is another way to write Bo'Bo', and Co-Co Co'Co'."""
    parts = body.split("-")
    return body if len(parts) == 1 else "".join(f"({part})" for part in parts)


def _groups(text: str, body: str) -> Iterator["FrameGroup | list[FrameGroup]"]:
    while body:
        if body[0] == "(":
            inside, closed, body = body[1:].partition(")")
            inner = list(_groups(text, inside))
            found = [group for group in inner if isinstance(group, FrameGroup)]
            if not closed or not found or len(found) < len(inner):
                raise _unread(text)
            yield found
            body = body.removeprefix("'")
            continue
        match = GROUP.match(body)
        if not match:
            raise _unread(text)
        body = body[match.end() :]
        own = body.startswith("'")
        body = body.removeprefix("'")
        axles = int(match["carrying"]) if match["carrying"] else ord(match["driven"]) - ord("A") + 1
        yield FrameGroup(axles, not match["carrying"], bool(match["motors"]), own)


def _unread(text: str) -> WhyteError:
    return WhyteError(
        f"“{short(text)}” is not a wheel arrangement: write UIC notation with a number for carrying axles, a letter "
        "for driven ones and a prime for a truck, such as C, 1'C1' or B'B'; or Whyte notation, such as 0-6-0T."
    )


# --- with cylinders


def _locomotive(text: str, units: list[Parsed], tank: Tank) -> Whyte:
    found, swinging = [], []
    for unit in units:
        for groups, own in _engine_units(text, unit):
            found.append(groups)
            swinging.append(own or len(units) > 1)
    if len(found) > 3:
        raise WhyteError(f"“{short(text)}” has {len(found)} engine units, and Cotter lays out at most 3.")
    first, *behind = [_counted(text, groups) for groups in found]
    return Whyte(
        first.leading, first.coupled, first.trailing, tank, tuple(behind),
        plus=len(units) > 1 or _two_brackets(units), in_trucks=_in_trucks(found),
        joint=_joint(units, swinging), written=_written(text),
    )  # fmt: skip


def _written(text: str) -> str:
    return _plain(text)[:40]


def _two_brackets(units: list[Parsed]) -> bool:
    return len(units) == 1 and len(units[0]) == 2 and all(isinstance(part, list) for part in units[0])


def _joint(units: list[Parsed], swinging: list[bool]) -> Articulation | None:
    if len(swinging) == 1:
        return None
    if len(units) > 1 or _two_brackets(units):
        return Articulation.GARRATT
    if all(swinging):
        return Articulation.MEYER
    return Articulation.MALLET if any(swinging) else Articulation.DUPLEX


def _engine_units(text: str, parts: Parsed) -> Iterator[tuple[list[FrameGroup], bool]]:
    """Each engine unit's groups, and whether it has a frame of its own: a bracket, or a driven group with a prime."""
    loose: list[FrameGroup] = []
    for part in parts:
        if isinstance(part, list):
            if any(group.driven for group in part):
                yield part, True
                continue
            raise _unread(text)
        if part.driven and any(group.driven for group in loose):
            yield loose, _swings(loose)
            loose = []
        loose.append(part)
    if loose:
        yield loose, _swings(loose)


def _swings(groups: list[FrameGroup]) -> bool:
    return any(group.driven and group.own_frame for group in groups)


def _counted(text: str, groups: list[FrameGroup]) -> EngineUnit:
    driven = [n for n, group in enumerate(groups) if group.driven]
    if len(driven) != 1 or len(groups[: driven[0]]) > 1 or len(groups[driven[0] + 1 :]) > 1:
        raise _unread(text)
    here = groups[driven[0]]
    ends = groups[: driven[0]] or [FrameGroup(0, False)], groups[driven[0] + 1 :] or [FrameGroup(0, False)]
    if here.axles > MOST_DRIVEN or max(end[0].axles for end in ends) > MOST_CARRYING:
        raise WhyteError(
            f"“{short(text)}” has more axles in one group than Cotter can lay out: at most {MOST_DRIVEN} coupled and "
            f"{MOST_CARRYING} carrying axles, or start with an empty structure."
        )
    return EngineUnit(2 * ends[0][0].axles, 2 * here.axles, 2 * ends[1][0].axles)


def _in_trucks(units: list[list[FrameGroup]]) -> frozenset[str]:
    """Which carrying groups have a frame of their own; two carrying axles always have one."""
    own = set()
    for groups in units:
        at = next(n for n, group in enumerate(groups) if group.driven)
        own |= {"leading" for group in groups[:at] if group.own_frame or group.axles > 1}
        own |= {"trailing" for group in groups[at + 1 :] if group.own_frame or group.axles > 1}
    return frozenset(own)


# --- without


def _vehicle(text: str, units: list[Parsed]) -> Whyte:
    """Trucks at the ends and, between or instead of them, axles in the frame of the vehicle itself."""
    if len(units) > 1:
        raise WhyteError(f"“{short(text)}” is more than one vehicle: make each by itself.")
    whole = [_one(part) for part in units[0]]
    rigid = [group for group in whole if not group.own_frame]
    trucks = [group for group in whole if group.own_frame]
    straight = whole == [*trucks[:1], *rigid, *trucks[1:]] or whole == [*rigid, *trucks]
    if not straight or len(trucks) > 2 or any(group.axles > MOST_IN_TRUCK for group in trucks):
        raise _unread(text)
    leading = trucks[0] if trucks and whole[0] is trucks[0] else FrameGroup(0, False)
    trailing = trucks[-1] if trucks and (len(trucks) == 2 or whole[0] is not trucks[0]) else FrameGroup(0, False)
    between = sum(group.axles for group in rigid)
    if between > MOST_DRIVEN:
        raise _unread(text)
    motors = {"leading": leading.driven, "trailing": trailing.driven, "coupled": any(g.motors for g in rigid)}
    return Whyte(
        2 * leading.axles, 2 * between, 2 * trailing.axles, Tank.NONE, boiler=Boiler.NONE,
        in_trucks=frozenset({"leading", "trailing"}), motors=frozenset(name for name, on in motors.items() if on),
        rods=any(group.driven and not group.motors for group in rigid), written=_written(text),
    )  # fmt: skip


def _one(part: "FrameGroup | list[FrameGroup]") -> FrameGroup:
    """A bracket as one truck, driven where any of its axles is."""
    if isinstance(part, FrameGroup):
        return part
    motors = any(group.motors for group in part)
    return FrameGroup(sum(group.axles for group in part), any(group.driven for group in part), motors, own_frame=True)
