"""Tests of single pieces: a gauge calibrated, a valve set, a spring loaded, a pipe, vessel or boiler part under water.

Each is written down in figures, with the limits it was held to and where they come from. What is outside a limit is a
defect; what was not tested far enough, or with an instrument out of date, is no test yet and is not signed as sound.
How far and how long is for the competent person and the local code. That a spring is loaded, let go and measured again:
common practice, as the published test in tests/inspections/domain/test_piece_tests.py was made.

Worked example: a standard at 180 lb/in² and a gauge at 183 lb/in² are 3 lb/in² apart.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

from parts.domain.plain import day
from parts.domain.words import Kind

from .boiler_steps import shown
from .boiler_test_fields import TestField, field
from .lengths import parse_length
from .pressures import allowed_in_both, as_written_in_both, in_both, read_pressure
from .quantities import Kind as Quantity
from .quantities import QuantityError, parse
from .two_units import in_both as length_in_both

SOURCE = field(
    "limits_from", "Where these limits come from",
    help="The drawing, the code and its clause. If none is known: the responsible engineer's judgement and name.",
)  # fmt: skip
GAUGE = (
    field("gauge", "Gauge", help="Its number and range."),
    field("until", "Gauge calibrated until", "day"),
)
UNDER_WATER = (
    field("asked", "Test pressure asked for", "pressure", "With its unit: 270 lb/in²."),
    field("most", "Highest pressure allowed in the test", "pressure"),
    field("held_least", "To be held for, in minutes", "number"),
    field("drop_most", "It may fall while held by", "pressure", "0 lb/in² where it may not."),
    SOURCE,
    field("medium", "Tested with", "water", "Cold water. Never air or steam."),
    field("water", "Temperature of the water", "temperature", "Such as 18 °C. Cold metal is brittle.", must=False),
    field("reached", "Highest pressure reached", "pressure"),
    field("held", "Held for, in minutes", "number"),
    field("drop", "Fell while held by", "pressure"),
    field("leaks", "Leaks", help="Each with where. Or: none."),
    *GAUGE,
    field("witness", "Witnessed by", must=False),
)
FIELDS: dict[Kind, tuple[TestField, ...]] = {
    Kind.HYDRAULIC_TEST: UNDER_WATER,
    Kind.CALIBRATION: (
        field("unit", "Unit of the readings", "unit", "As on the dial: lb/in², bar, inHg."),
        field("gauge", "Compared with", help="The standard gauge or dead-weight tester, by its number."),
        field("until", "That is calibrated until", "day"),
        field("readings", "Readings", "pairs", "One a line, up and down again: standard, gauge: 180, 183."),
        field("allowed", "It may be out by", "number", "In that unit."),
        SOURCE,
    ),
    Kind.SET_PRESSURE: (
        field("set", "Is to lift at", "pressure", "With its unit: 180 lb/in²."),
        field("either", "It may lift above or below that by", "pressure"),
        field("blowdown", "Is to shut again within", "pressure", "The most between lifting and shutting."),
        SOURCE,
        field("lifts", "Lifted at", "pressure"),
        field("shuts", "Shut at", "pressure"),
        field("medium", "Tried with", help="Steam, air or water, and where."),
        *GAUGE,
        field("sealed", "Sealed, and by whom", must=False),
    ),
    Kind.SPRING_TEST: (
        field("load", "Test load", "load", "With its unit: 5 long tons, 40 kN."),
        field("free", "Free camber (laminated) or free length (coil)", "length", "Before the load: 4 1/2 in."),
        field("free_low", "Not below", "length"),
        field("free_high", "Not above", "length"),
        field("loaded", "Camber or length under the load", "length", "A camber pulled past straight: -1/4 in."),
        field("loaded_low", "Under the load not below", "length"),
        field("loaded_high", "Under the load not above", "length"),
        field("after", "Free again, after the load", "length"),
        field("set_most", "It may take a set of", "length", "The most that it may be out from before the load."),
        SOURCE,
        field("gauge", "Testing machine", help="Its number."),
        field("until", "Machine calibrated until", "day"),
    ),
    Kind.PRESSURE_TEST: UNDER_WATER,
}  # fmt: skip

NUMBER = re.compile(r"\d{1,9}(\.\d{1,9})?", re.ASCII)
Figures = Mapping[str, str]
Entered = SimpleNamespace
"""The figures by their names."""


def _load(typed: str) -> Fraction:
    """A load in newtons, from a force or from the weight of a mass."""
    try:
        return parse(typed, Quantity.FORCE)
    except QuantityError as wrong:
        try:
            return parse(typed, Quantity.MASS) * Fraction("9.80665")
        except QuantityError:
            raise wrong from None


def _length(typed: str) -> Fraction:
    """In mm; a camber pulled past straight is below nothing."""
    below = typed.startswith(("-", "\u2212"))
    size = parse_length(typed[1:].strip() if below else typed)
    return -size if below else size


def _number(typed: str) -> Fraction:
    if not NUMBER.fullmatch(typed):
        raise ValueError(f"“{typed[:30]}” is no number. Write it in figures, such as 2.5.")
    return Fraction(typed)


def _pairs(typed: str) -> list[tuple[Fraction, Fraction]]:
    """The standard and the gauge, line by line."""
    found = []
    for line in filter(None, (line.strip() for line in typed.splitlines())):
        standard, comma, gauge = line.partition(",")
        if not comma:
            raise ValueError(f"“{line[:30]}” is not a pair. Write the standard, a comma and the gauge: 180, 183.")
        found.append((_number(standard.strip()), _number(gauge.strip())))
    if len(found) < 2:
        raise ValueError("Write at least two pairs: one reading says nothing of a scale.")
    return found


def _unit(typed: str) -> str:
    read_pressure(f"1 {typed}")
    return typed


def _water(typed: str) -> str:
    words = re.findall(r"[a-z]+", typed.lower())
    if "water" not in words or {"air", "steam", "gas", "nitrogen"}.intersection(words):
        raise ValueError("Test with cold water: air and steam burst, water does not.")
    return typed


READ: dict[str, Callable[[str], Any]] = {
    "pressure": read_pressure, "length": _length, "load": _load, "number": _number, "pairs": _pairs, "unit": _unit,
    "water": _water, "day": date.fromisoformat, "temperature": lambda typed: parse(typed, Quantity.TEMPERATURE),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PieceTest:
    """What a test of a piece comes to."""

    wrong: dict[str, str]  # by field: missing, or cannot be read
    lines: list[tuple[str, str]]  # everything that is on record, in the order of the form
    outside: list[str]  # what lies outside a limit: a defect
    not_enough: list[str]  # why it is no test yet


def has_figures(kind: str) -> bool:
    return kind in FIELDS


def read_test(kind: Kind, figures: Figures, on: date) -> PieceTest:
    """Nothing is judged while something is missing or cannot be read."""
    wrong: dict[str, str] = {}
    read: dict[str, Any] = {}
    for one in FIELDS[kind]:
        typed = _typed(figures, one)
        if not typed and one.must:
            wrong[one.name] = "Nothing was written."
        elif typed:
            try:
                read[one.name] = READ[one.kind](typed) if one.kind in READ else typed
            except ValueError as error:
                wrong[one.name] = str(error)
    if wrong:
        return PieceTest(wrong, [], [], [])
    entered = Entered(**read)
    old = (
        []
        if entered.until >= on
        else [f"Test again with one in date: {entered.gauge} was calibrated until {day(entered.until)}."]
    )
    told = [*_told(kind, figures, read), *COMES_TO[kind](entered)]
    outside = list(OUTSIDE[kind](entered))
    short = NOT_ENOUGH.get(kind)
    return PieceTest({}, told, outside, [*old, *(short(entered) if short else ())])


def typed_figures(kind: Kind, figures: Figures) -> dict[str, str]:
    """As they are stored: each as typed."""
    return {one.name: typed for one in FIELDS[kind] if (typed := _typed(figures, one))}


def lines_of(kind: str, figures: Figures, on: date) -> list[tuple[str, str]]:
    """What a record says of its figures; a kind without figures says nothing."""
    return read_test(Kind(kind), figures, on).lines if has_figures(kind) and figures else []


def _typed(figures: Figures, one: TestField) -> str:
    return str(figures.get(one.name) or "").strip()


def _told(kind: Kind, figures: Figures, read: dict[str, Any]) -> Iterator[tuple[str, str]]:
    for one in FIELDS[kind]:
        if typed := _typed(figures, one):
            yield one.label, TELL[one.kind](typed, read[one.name]) if one.kind in TELL else typed


TELL = {
    "pressure": lambda typed, read: as_written_in_both(typed),
    "length": lambda typed, read: f"{typed} = {_size(read)}",
    "load": lambda typed, read: f"{typed} = {shown(read / 1000)} kN",
    "pairs": lambda typed, read: "; ".join(f"{shown(one)} read as {shown(other)}" for one, other in read),
    "day": lambda typed, read: day(read),
    "temperature": lambda typed, read: f"{typed} = {shown(read)} °C",
}


def _size(mm: Fraction) -> str:
    return f"{'-' if mm < 0 else ''}{length_in_both(abs(mm), 'mm')}"


# --- what each comes to, and what is outside


def _worst(entered: Entered) -> tuple[Fraction, Fraction]:
    readings: list[tuple[Fraction, Fraction]] = entered.readings
    return max(readings, key=lambda pair: abs(pair[1] - pair[0]))


def _calibration_comes_to(entered: Entered) -> Iterator[tuple[str, str]]:
    standard, gauge = _worst(entered)
    yield "Most that it is out", f"{shown(abs(gauge - standard))} {entered.unit}, at {shown(standard)} {entered.unit}"


def _calibration_outside(entered: Entered) -> Iterator[str]:
    standard, gauge = _worst(entered)
    if abs(gauge - standard) > entered.allowed:
        yield (
            f"At {shown(standard)} {entered.unit} it is {shown(abs(gauge - standard))} {entered.unit} out; "
            f"{shown(entered.allowed)} {entered.unit} is allowed."
        )


def _valve_comes_to(entered: Entered) -> Iterator[tuple[str, str]]:
    if entered.shuts < entered.lifts:
        yield "Blow-down", in_both(entered.lifts - entered.shuts)


def _valve_outside(entered: Entered) -> Iterator[str]:
    if abs(entered.lifts - entered.set) > entered.either:
        set_at, either = in_both(entered.set), in_both(entered.either)
        yield f"It lifts at {in_both(entered.lifts)}: more than {either} from the {set_at} set."
    if entered.lifts - entered.shuts > entered.blowdown:
        yield f"It blows down {in_both(entered.lifts - entered.shuts)}; {in_both(entered.blowdown)} is allowed."


def _valve_not_enough(entered: Entered) -> Iterator[str]:
    if entered.shuts >= entered.lifts:
        yield "Try it again: a valve cannot shut at or above the pressure at which it lifts."


def _spring_comes_to(entered: Entered) -> Iterator[tuple[str, str]]:
    give = abs(entered.free - entered.loaded)
    yield "Deflection under the load", _size(give)
    if give:
        yield "Stiffness", f"{shown(entered.load / give)} N/mm"
    yield "Set taken", _size(abs(entered.free - entered.after))


def _spring_outside(entered: Entered) -> Iterator[str]:
    for words, value, low, high in (
        ("Free", entered.free, entered.free_low, entered.free_high),
        ("Under the load", entered.loaded, entered.loaded_low, entered.loaded_high),
    ):
        if not low <= value <= high:
            yield f"{words} it measures {_size(value)}; {_size(low)} to {_size(high)} is allowed."
    if abs(entered.free - entered.after) > entered.set_most:
        yield f"It took a set of {_size(abs(entered.free - entered.after))}; {_size(entered.set_most)} is allowed."


def _pressure_outside(entered: Entered) -> Iterator[str]:
    if entered.drop > entered.drop_most:
        yield f"It fell by {in_both(entered.drop)}; {in_both(entered.drop_most)} is allowed."
    if entered.reached > entered.most:
        yield (
            f"Examine it for overstrain: {in_both(entered.reached)} was over "
            f"the {allowed_in_both(entered.most)} allowed in the test."
        )
    if entered.leaks.strip(" .").lower() not in NO_LEAK:
        yield f"It leaked: {entered.leaks.strip('. ')}."


def _pressure_not_enough(entered: Entered) -> Iterator[str]:
    if entered.reached < entered.asked:
        yield f"Test again at {in_both(entered.asked)}: only {in_both(entered.reached)} was reached."
    if entered.held < entered.held_least:
        yield f"Hold it for {shown(entered.held_least)} minutes: it was held for {shown(entered.held)}."


def _nothing(entered: Entered) -> Iterator[Any]:
    return iter(())


NO_LEAK = ("none", "no", "no leak", "no leaks", "nil")
COMES_TO: dict[Kind, Callable[[Entered], Iterator[tuple[str, str]]]] = {
    Kind.CALIBRATION: _calibration_comes_to, Kind.SET_PRESSURE: _valve_comes_to, Kind.SPRING_TEST: _spring_comes_to,
    Kind.PRESSURE_TEST: _nothing, Kind.HYDRAULIC_TEST: _nothing,
}  # fmt: skip
OUTSIDE: dict[Kind, Callable[[Entered], Iterator[str]]] = {
    Kind.CALIBRATION: _calibration_outside, Kind.SET_PRESSURE: _valve_outside, Kind.SPRING_TEST: _spring_outside,
    Kind.PRESSURE_TEST: _pressure_outside, Kind.HYDRAULIC_TEST: _pressure_outside,
}  # fmt: skip
NOT_ENOUGH: dict[Kind, Callable[[Entered], Iterator[str]]] = {
    Kind.SET_PRESSURE: _valve_not_enough,
    Kind.PRESSURE_TEST: _pressure_not_enough,
    Kind.HYDRAULIC_TEST: _pressure_not_enough,
}
