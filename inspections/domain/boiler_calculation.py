"""A calculation of a boiler as plain rows: inputs, steps, what governs, what was not calculated.

Figures are exact and in consistent units; converting from what was written (bar, kgf/cm², tons/in²) is done before, and
what was written stands beside each input with where it came from. Until every part is calculated, or said not to be
there, the answer reads "lowest of the parts calculated". It computes and says nothing of fitness for pressure: that is
for the competent person and the inspecting body.

Worked example: a barrel by 60,000 x 0.375 x 1 / (30 x 6) = 125 lb/in², and a plate between stays of 148: the barrel
governs with 125; a plate 1 per cent thinner lowers it by 1 per cent.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction

from .boiler_methods import METHODS
from .boiler_steps import Method, answer_shown, shown
from .exact import Number, exact

PARTS = (
    "barrel and longitudinal seams",
    "girth seams",
    "dome",
    "openings",
    "stayed flat plates",
    "firebox stays",
    "crown stays or roof bars",
    "heads and their braces",
    "smokebox tubeplate",
    "firebox tubeplate",
    "tubes",
    "flues under outside pressure",
    "dished ends and knuckles",
    "superheater",
    "steam pipes",
    "copper at temperature",
)
CAUTION = (
    "For the competent person to accept: nothing here is fit for pressure until they and the inspecting body say so."
)
LITTLE = Fraction(1, 100)


class InputSource(StrEnum):
    SURVEY = "survey point"
    DRAWING = "drawing"
    CERTIFICATE = "certificate"
    MEASURED = "measured"
    RULE = "rule or code"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """A figure with where it came from. `value` is in the units of the calculation; `as_written` has its own unit.

    `where` names the point, sheet, paper or clause; of an assumption it says why.
    """

    key: str
    name: str
    value: Number
    kind: str
    as_written: str
    origin: InputSource
    where: str

    def __post_init__(self) -> None:
        exact(self.value, self.name)
        if not self.as_written.strip() or not self.where.strip():
            raise ValueError(f"{self.name} must say how it was written and where it came from.")


@dataclass(frozen=True, slots=True, kw_only=True)
class CalculationLine:
    """One formula at work. `uses` is the name in the formula to the key of an input or of an earlier line.

    `part` is what of the boiler it stands for, one of PARTS; blank where it only feeds another line.
    """

    key: str
    title: str
    method: str
    uses: Mapping[str, str]
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """One printed step: `result` is exact, `text` as printed."""

    name: str
    formula: str
    numbers: str
    result: Fraction
    text: str
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A line worked out. `taken` are figures of the formula that nobody entered, such as 2 for double shear."""

    line: CalculationLine
    cited: str
    rows: tuple[PrintedStep, ...]
    kind: str
    taken: Mapping[str, Fraction]

    @property
    def result(self) -> Fraction:
        return self.rows[-1].result


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    length: str = "in"
    stress: str = "lb/in²"
    load: str = "lb"

    @property
    def imperial(self) -> bool:
        return self == Units()

    def of(self, kind: str) -> str:
        """The unit of a kind of figure; figures with none say nothing."""
        named = {"length": self.length, "area": f"{self.length}²", "load": self.load, "number": "", "count": ""}
        return self.stress if kind in ("stress", "pressure") else named.get(kind, kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """What calculate() gives. `absent` is part to reason: what this boiler does not have."""

    inputs: tuple[Input, ...]
    lines: tuple[CalculationLine, ...]
    worked: tuple[Worked, ...]
    absent: Mapping[str, str]
    units: Units = field(default_factory=Units)

    @property
    def governs(self) -> Worked | None:
        """The line with the lowest pressure for a part; None where no line gives one."""
        pressures = [one for one in self.worked if one.line.part and one.kind == "pressure"]
        return min(pressures, key=lambda one: one.result, default=None)

    @property
    def pressure(self) -> Fraction | None:
        return None if self.governs is None else self.governs.result

    @property
    def not_calculated(self) -> tuple[str, ...]:
        done = {one.line.part for one in self.worked if one.kind == "pressure"}
        return tuple(part for part in PARTS if part not in done and part not in self.absent)

    @property
    def assumed(self) -> tuple[Input, ...]:
        return tuple(one for one in self.inputs if one.origin is InputSource.ASSUMED)

    @property
    def words(self) -> str:
        """The answer as a sentence."""
        if self.governs is None:
            return f"No part was calculated. {CAUTION}"
        of = "Lowest of the parts calculated" if self.not_calculated else "Lowest of all parts"
        answer = f"{answer_shown(self.governs.result)} {self.units.of('pressure')}"
        return f"{of}: {answer}, by {self.governs.line.title}. {CAUTION}"

    def below(self, pressure: Number) -> tuple[Worked, ...]:
        """The lines whose part does not reach a pressure, the lowest first; exactly on it reaches it."""
        wanted = exact(pressure, "The pressure wanted")
        found = [one for one in self.worked if one.line.part and one.kind == "pressure" and one.result < wanted]
        return tuple(sorted(found, key=lambda one: one.result))


def calculate(
    inputs: Sequence[Input],
    lines: Sequence[CalculationLine],
    absent: Mapping[str, str] | None = None,
    units: Units | None = None,
) -> Calculation:
    """Works the lines in their order. ValueError names the line, and what is missing, doubled or wrong in it."""
    units, absent = units or Units(), dict(absent or {})
    _check_parts(lines, absent)
    known = {one.key: (exact(one.value, one.name), one.kind) for one in inputs}
    if len(known) != len(inputs):
        raise ValueError("Two inputs have one key.")
    worked = []
    for line in lines:
        if line.key in known:
            raise ValueError(f"{line.title} has a key that is taken.")
        done = _work(line, known, units)
        known[line.key] = (done.result, done.kind)
        worked.append(done)
    return Calculation(inputs=tuple(inputs), lines=tuple(lines), worked=tuple(worked), absent=absent, units=units)


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """How the answer moves with one input, in per cent of the answer; None where the input could not be moved so.

    `step` is what it was moved by: 1 per cent, or one of a whole number.
    """

    input: Input
    step: str
    up: Fraction | None
    down: Fraction | None

    @property
    def most(self) -> Fraction:
        return max(abs(self.up or Fraction(0)), abs(self.down or Fraction(0)))


def sensitivity(calculation: Calculation) -> list[Moves]:
    """Which input moves the lowest pressure most, first. Each is moved alone, up and down."""
    found = [_moves(calculation, one) for one in calculation.inputs] if calculation.pressure else []
    return sorted(found, key=lambda one: one.most, reverse=True)


def what_if(
    calculation: Calculation, changed: Sequence[Input], lines: Sequence[CalculationLine] | None = None
) -> Calculation:
    """The same calculation with other inputs (by key) and, where a repair changes the formula, other lines."""
    by_key = {one.key: one for one in changed}
    if unknown := by_key.keys() - {one.key for one in calculation.inputs} - _used(lines or calculation.lines):
        raise ValueError(f"The calculation has no input {min(unknown)}.")
    kept = [by_key.pop(one.key, one) for one in calculation.inputs]
    return calculate([*kept, *by_key.values()], lines or calculation.lines, calculation.absent, calculation.units)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartCompared:
    """One part in several calculations; None where one of them leaves it out. `governs`: those that it governs in."""

    part: str
    pressures: tuple[Fraction | None, ...]
    governs: tuple[int, ...]


def beside(calculations: Sequence[Calculation]) -> list[PartCompared]:
    """Part by part, the lowest of each calculation for it, in the order of PARTS."""
    rows = []
    for part in PARTS:
        lowest = tuple(_lowest(calculation, part) for calculation in calculations)
        if any(pressure is not None for pressure in lowest):
            governs = (n for n, one in enumerate(calculations) if one.governs and one.governs.line.part == part)
            rows.append(PartCompared(part=part, pressures=lowest, governs=tuple(governs)))
    return rows


def _lowest(calculation: Calculation, part: str) -> Fraction | None:
    return min(
        (one.result for one in calculation.worked if one.line.part == part and one.kind == "pressure"), default=None
    )


def _used(lines: Sequence[CalculationLine]) -> set[str]:
    return {key for line in lines for key in line.uses.values()}


def _check_parts(lines: Sequence[CalculationLine], absent: Mapping[str, str]) -> None:
    for part in (*(line.part for line in lines if line.part), *absent):
        if part not in PARTS:
            raise ValueError(f"“{part}” is no part of a boiler known here.")
    for part, reason in absent.items():
        if not reason.strip():
            raise ValueError(f"Say why the boiler has no {part}.")
        if any(line.part == part for line in lines):
            raise ValueError(f"{part} is calculated and said not to be there.")


def _work(line: CalculationLine, known: Mapping[str, tuple[Fraction, str]], units: Units) -> Worked:
    method = METHODS.get(line.method)
    if method is None:
        raise ValueError(f"{line.title}: there is no formula “{line.method}”.")
    if method.imperial and not units.imperial:
        raise ValueError(f"{line.title}: the formula holds in inches and lb/in² only.")
    values, rows = _values(line, method, known), []
    texts = {name: shown(value) for name, value in values.items()}
    for step in method.steps:
        try:
            result = step.work(values)
        except ValueError as wrong:
            raise ValueError(f"{line.title}: {wrong}") from wrong
        values[step.name], texts[step.name] = result, shown(result)
        rows.append(
            PrintedStep(
                name=step.name,
                formula=step.formula,
                numbers=step.numbers.format(**texts),
                result=result,
                text=shown(result),
                unit=units.of(step.kind),
            )
        )
    taken = {name: value for name, value in (method.defaults or {}).items() if name not in line.uses}
    return Worked(line=line, cited=method.cited, rows=tuple(rows), kind=method.kind, taken=taken)


def _values(line: CalculationLine, method: Method, known: Mapping[str, tuple[Fraction, str]]) -> dict[str, Fraction]:
    if strange := line.uses.keys() - method.inputs.keys():
        raise ValueError(f"{line.title}: the formula has no {min(strange)}.")
    values = dict(method.defaults or {})
    for name, key in line.uses.items():
        if key not in known:
            raise ValueError(f"{line.title}: there is no input or earlier line “{key}”.")
        value, kind = known[key]
        if kind != method.inputs[name]:
            raise ValueError(f"{line.title}: {name} must be a {method.inputs[name]}, not a {kind}.")
        values[name] = value
    if missing := method.inputs.keys() - values.keys():
        raise ValueError(f"{line.title}: {min(missing)} is missing.")
    return values


def _moves(calculation: Calculation, one: Input) -> Moves:
    value = exact(one.value, one.name)
    whole = one.kind == "count"
    by = Fraction(1) if whole else value * LITTLE
    return Moves(
        input=one,
        step="one" if whole else "1 per cent",
        up=_moved(calculation, replace(one, value=value + by)),
        down=_moved(calculation, replace(one, value=value - by)),
    )


def _moved(calculation: Calculation, one: Input) -> Fraction | None:
    try:
        moved = what_if(calculation, [one]).pressure
    except ValueError:
        return None
    if moved is None or calculation.pressure is None:
        return None
    return (moved / calculation.pressure - 1) * 100
