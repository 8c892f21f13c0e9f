"""What is questioned of how a crack check was done. Cotter asks, the examiner decides.

| what | asked when | source |
|---|---|---|
| UV-A, fluorescent | under 10 W/m² (10 itself is enough) | ISO 3059, from memory |
| light, fluorescent | 20 lx or over (under 20 is wanted) | ISO 3059, from memory |
| light, colour contrast | under 500 lx (500 itself is enough) | ISO 3059, from memory |
| penetrant dwell | under 5 or over 60 min (both themselves will do) | AS ISO 3452.1:2020, 8.4.2, as read |
| surface, penetrant | under 10 or over 50 °C (both will do) | ISO 3452-2:2021, scope, as read; 3452-1 from memory |
| directions | more than 120° between neighbours (two: under 60° apart) | worked from ISO 9934-1:2015, a note, as read |

On directions: the note says that the flux finds discontinuities that lie up to 60° from the best direction, and that
two directions at right angles cover all. So a gap of up to 120° between neighbouring directions, of the 180° there are
to a line, leaves no crack unfound: "about 90°" is 60° to 120° here. What is worked out is geometry, and no permission.

Each question can be answered by a reason, which is kept (questions.unanswered).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from .crack_methods import MAGNETIC, PENETRANT, proposes
from .exact import Number, exact
from .questions import Question
from .weld_repairs import weld_repair_checks

__all__ = ["Conditions", "proposes", "questions", "weld_repair_checks", "widest_gap_deg"]

FLUORESCENT, COLOUR_CONTRAST = "fluorescent", "colour contrast"

LEAST_UV_A_W_M2 = 10
LIGHT_UNDER_LUX = 20
LEAST_LIGHT_LUX = 500
DWELL_MIN = (5, 60)
SURFACE_C = (10, 50)
WIDEST_GAP_DEG = 120

VIEWING = "ISO 3059, from memory"
DWELL = "AS ISO 3452.1:2020, 8.4.2; and the maker's own time"
SURFACE = "ISO 3452-2:2021"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """How it was looked for. None or "" is not said, which is asked for where the method calls for it."""

    method: str = ""
    viewing: str = ""  # "fluorescent", "colour contrast" or ""
    uv_a_w_m2: Decimal | None = None
    light_lux: Decimal | None = None
    dwell_min: Decimal | None = None
    surface_c: Decimal | None = None
    directions_deg: tuple[Number, ...] = ()
    demagnetised: str = ""  # "yes", "no", "not needed" or ""

    def __post_init__(self) -> None:
        for name in ("uv_a_w_m2", "light_lux", "dwell_min"):
            if getattr(self, name) is not None and exact(getattr(self, name), NAMES[name]) < 0:
                raise ValueError(f"{NAMES[name]} cannot be below zero.")
        if self.surface_c is not None:
            exact(self.surface_c, NAMES["surface_c"])
        object.__setattr__(self, "directions_deg", tuple(self.directions_deg))


NAMES = {
    "uv_a_w_m2": "The UV-A",
    "light_lux": "The light",
    "dwell_min": "The penetrant dwell",
    "surface_c": "The surface temperature",
}
UNITS = {"uv_a_w_m2": "W/m²", "light_lux": "lx", "dwell_min": "min", "surface_c": "°C"}


def questions(check: Conditions) -> list[Question]:
    """What to ask about these conditions, in the order of the sheet. Nothing for a method with none (ultrasonic)."""
    asked: list[Question] = []
    if check.method in (MAGNETIC, PENETRANT):
        asked += _viewing(check)
    if check.method == PENETRANT:
        asked += _penetrant(check)
    if check.method == MAGNETIC:
        asked += [*_directions(check), *_demagnetised(check)]
    return asked


def _viewing(check: Conditions) -> Iterable[Question]:
    if check.viewing == FLUORESCENT:
        yield from _fluorescent(check)
    elif check.viewing == COLOUR_CONTRAST:
        yield from _colour_contrast(check)
    else:
        yield Question(
            "viewing",
            "viewing-missing",
            "Say how you looked at it: fluorescent, or colour contrast.",
            cure=_enter("Choose fluorescent or colour contrast"),
        )


def _fluorescent(check: Conditions) -> Iterable[Question]:
    if check.uv_a_w_m2 is None:
        yield _missing("uv_a_w_m2", "uv-a-missing")
    elif check.uv_a_w_m2 < LEAST_UV_A_W_M2:
        yield Question(
            "uv_a_w_m2",
            "uv-a-low",
            f"The UV-A was {check.uv_a_w_m2} W/m²; it has to be at least {LEAST_UV_A_W_M2} ({VIEWING}).",
        )
    if check.light_lux is None:
        yield _missing("light_lux", "light-missing")
    elif check.light_lux >= LIGHT_UNDER_LUX:
        yield Question(
            "light_lux",
            "light-high",
            f"The light was {check.light_lux} lx; for fluorescent marks it is kept under {LIGHT_UNDER_LUX} "
            f"({VIEWING}).",
        )


def _colour_contrast(check: Conditions) -> Iterable[Question]:
    if check.light_lux is None:
        yield _missing("light_lux", "light-missing")
    elif check.light_lux < LEAST_LIGHT_LUX:
        yield Question(
            "light_lux",
            "light-low",
            f"The light was {check.light_lux} lx; for colour contrast at least {LEAST_LIGHT_LUX} is needed "
            f"({VIEWING}).",
        )


def _penetrant(check: Conditions) -> Iterable[Question]:
    yield from _between("dwell_min", "dwell", check.dwell_min, DWELL_MIN, "min", DWELL)
    yield from _between("surface_c", "surface", check.surface_c, SURFACE_C, "°C", SURFACE)


def _between(
    field: str, code: str, value: Number | None, ends: tuple[int, int], unit: str, source: str
) -> Iterable[Question]:
    if value is None:
        yield _missing(field, f"{code}-missing")
    elif not ends[0] <= value <= ends[1]:
        yield Question(
            field,
            f"{code}-{'low' if value < ends[0] else 'high'}",
            f"{NAMES[field]} was {value} {unit}; {ends[0]} to {ends[1]} is usual ({source}).",
        )


def _directions(check: Conditions) -> Iterable[Question]:
    if not check.directions_deg:
        yield Question(
            "directions_deg",
            "directions-missing",
            "Say in which directions you magnetised it.",
            cure=_enter("Enter the directions in degrees, such as 0 and 90"),
        )
        return
    gap = widest_gap_deg(check.directions_deg)
    if gap > WIDEST_GAP_DEG:
        yield Question(
            "directions_deg",
            "directions",
            "It was magnetised in one direction only: cracks that lie along it are not found. "
            "Magnetise again at about 90° to it."
            if gap == 180
            else f"The directions leave a gap of {float(gap):g}°, in which cracks may not be found. "
            "Two directions about 90° apart (60° to 120°) leave none (ISO 9934-1:2015).",
        )


def widest_gap_deg(directions: Iterable[Number]) -> Fraction:
    """The widest angle between neighbouring directions; 180 for one. A direction and its opposite are one line."""
    lines = sorted({exact(direction, "A direction") % 180 for direction in directions})
    if not lines:
        raise ValueError("There are no directions.")
    return max(after - before for before, after in zip(lines, [*lines[1:], lines[0] + 180], strict=True))


def _demagnetised(check: Conditions) -> Iterable[Question]:
    if check.demagnetised == "no":
        yield Question(
            "demagnetised",
            "demagnetised",
            "It was left magnetised: it will hold swarf, and a journal or a bearing with swarf on it is soon scored.",
        )
    elif check.demagnetised not in ("yes", "not needed"):
        cure = _enter("Choose whether it was demagnetised")
        yield Question("demagnetised", "demagnetised-missing", "Say whether you demagnetised it.", cure=cure)


def _missing(field: str, code: str) -> Question:
    name = NAMES[field]
    cure = _enter(f"Enter t{name[1:]} in {UNITS[field]}")
    return Question(field, code, f"{name} is missing.", cure=cure)


def _enter(what: str) -> str:
    return f"{what}, or say here why it is not known."
