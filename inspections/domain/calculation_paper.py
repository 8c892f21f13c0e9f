"""A calculation as its paper: every figure and where it came from, every step with figures put in, what governs.

Whoever has the paper works it again with a pencil: nothing is taken that is not printed. Worked example: 60,000 x 0.375
x 0.7 / (30 x 4.5) = 116.6667 lb/in² (8.043884 bar).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import Any

from parts.domain.plain import capital, listed, several

from .boiler_calculation import (
    Calculation,
    CalculationLine,
    Input,
    InputSource,
    Moves,
    PartCompared,
    Worked,
    beside,
    calculate,
    sensitivity,
    what_if,
)
from .boiler_methods import METHODS
from .boiler_papers import BoilerPaper, Section
from .boiler_steps import answer_shown, shown
from .calculation_figures import read_figure, told
from .pressures import as_written_in_both, in_both, read_pressure
from .quantities import convert

MOST_TOLD = 12
LOWEST = "lowest pressure"
"""What a calculation gives, by this name."""


@dataclass(frozen=True, kw_only=True)
class ReadCalculation:
    """`entered`: figures, formulas, what is absent and why, and what-ifs, as typed; `wanted` the pressure wanted;
    `overtaken` what its figures rest on that something later has taken the place of, each a sentence."""

    entered: Mapping[str, Any]
    wanted: str
    overtaken: Sequence[str] = ()

    @property
    def figures(self) -> list[Mapping[str, str]]:
        return list(self.entered.get("figures", ()))

    @cached_property
    def inputs(self) -> list[Input]:
        return [read_input(one) for one in self.figures]

    @property
    def lines(self) -> list[CalculationLine]:
        return [
            CalculationLine(
                key=one["key"], title=one["title"], method=one["method"], uses=one["uses"], part=one.get("part", "")
            )
            for one in self.entered.get("formulas", ())
        ]

    @cached_property
    def calculation(self) -> Calculation:
        """ValueError names the figure or the line that is wrong."""
        return calculate(self.inputs, self.lines, self.entered.get("absent", {}))

    def variants(self) -> list[tuple[str, Calculation]]:
        return [
            (one["name"], what_if(self.calculation, self._changed(one["changes"])))
            for one in self.entered.get("what_if", ())
        ]

    def _changed(self, changes: Mapping[str, str]) -> list[Input]:
        by_key = {one.key: one for one in self.inputs}
        return [
            replace(by_key[key], value=read_figure(written, by_key[key].kind), as_written=written, where="what if")
            for key, written in changes.items()
            if key in by_key
        ]

    @property
    def wanted_psi(self) -> Fraction:
        return read_pressure(self.wanted)


def read_input(one: Mapping[str, str]) -> Input:
    try:
        value = read_figure(one["written"], one["kind"])
    except ValueError as wrong:
        raise ValueError(f"{one['name']}: {wrong}") from None
    return Input(
        key=one["key"], name=one["name"], value=value, kind=one["kind"], as_written=one["written"],
        origin=InputSource(one["origin"]), where=one["where"],
    )  # fmt: skip


def against(read: ReadCalculation) -> list[str]:
    """Why it cannot be worked out yet."""
    try:
        calculation = read.calculation
        read.variants()
    except ValueError as wrong:
        return [str(wrong)]
    if calculation.governs is None:
        return ["Add a formula that gives the pressure of a part of the boiler."]
    return []


def paper(read: ReadCalculation) -> BoilerPaper:
    troubles = against(read)
    if troubles:
        return BoilerPaper(sentence="Not worked out yet.", sections=[_figures(read)], against=troubles)
    calculation = read.calculation
    variants = read.variants()
    sections = [
        _answer(read, calculation),
        *([_beside(calculation, variants)] if variants else []),
        _left_out(calculation),
    ]
    sections += [_figures(read), *(_step(one, calculation) for one in calculation.worked), _sensitivity(calculation)]
    return BoilerPaper(
        sentence=_sentence(calculation),
        facts=[("Working pressure wanted", as_written_in_both(read.wanted))],
        sections=sections,
        against=read.overtaken,
        gives={LOWEST: f"{answer_shown(calculation.pressure)} lb/in²"} if calculation.pressure else {},
        cautions=[f"{several(len(calculation.assumed), 'figure is', 'figures are')} assumed."]
        if calculation.assumed
        else [],
    )


def _sentence(calculation: Calculation) -> str:
    of = "Lowest of the parts calculated" if calculation.not_calculated else "Lowest of all parts"
    governs, pressure = calculation.governs, calculation.pressure
    if governs is None or pressure is None:
        return "No part was calculated."
    bar = answer_shown(convert(pressure, "psi", "bar"))
    return f"{of}: {answer_shown(pressure)} lb/in² ({bar} bar), by {governs.line.title}."


def _figures(read: ReadCalculation) -> Section:
    head = ("Figure", "As written", "In both units", "Where it came from")
    return Section(heading="Figures", head=head, rows=[_figure(one) for one in read.figures])


def _figure(one: Mapping[str, str]) -> tuple[str, ...]:
    try:
        both = told(read_figure(one["written"], one["kind"]), one["kind"])
    except ValueError as wrong:
        both = str(wrong)
    return (f"{one['name']} [{one['key']}]", one["written"], both, f"{one['origin']}: {one['where']}")


def _step(one: Worked, calculation: Calculation) -> Section:
    names = {figure.key: figure.name for figure in calculation.inputs} | {
        line.key: line.title for line in calculation.lines
    }
    uses = listed(f"{name.replace('_', ' ')} = {names[key]} [{key}]" for name, key in one.line.uses.items())
    sentences = [f"{METHODS[one.line.method].title}. {one.cited}.", f"In it: {uses}."]
    if one.taken:
        taken = listed(f"{name.replace('_', ' ')} = {shown(value)}" for name, value in one.taken.items())
        sentences.append(f"Taken by the formula: {taken}.")
    rows = [(row.name, row.formula, row.numbers, f"{row.text} {row.unit}".strip()) for row in one.rows]
    if one.kind == "pressure":
        sentences.append(f"Comes to {in_both(one.result)}.")
    part = f", for {one.line.part}" if one.line.part else ""
    head = ("Step", "Formula", "With figures", "Result")
    heading = f"{capital(one.line.title)}{part} [{one.line.key}]: {rows[-1][-1]}"
    return Section(heading=heading, sentences=sentences, head=head, rows=rows)


def _answer(read: ReadCalculation, calculation: Calculation) -> Section:
    below = calculation.below(read.wanted_psi)
    sentences = [_sentence(calculation)]
    if below:
        sentences.append(f"Does not reach the pressure wanted: {listed(one.line.title for one in below)}.")
    else:
        sentences.append("Every part calculated reaches the pressure wanted, on these figures.")
    return Section(heading="What governs", sentences=sentences, folded=False)


def _left_out(calculation: Calculation) -> Section:
    sentences = [f"Not there: {part}, {reason}." for part, reason in calculation.absent.items()]
    left = calculation.not_calculated
    sentences.append(
        f"Not calculated: {listed(left)}." if left else "Every part is calculated, or said not to be there."
    )
    return Section(heading="What was left out", sentences=sentences, folded=False)


def _sensitivity(calculation: Calculation) -> Section:
    rows = [_moves(one) for one in sensitivity(calculation)[:MOST_TOLD] if one.most]
    head = ("Figure", "Moved by", "Up: the answer moves", "Down: the answer moves")
    return Section(heading="Which figure moves the answer most", head=head, rows=rows)


def _moves(one: Moves) -> tuple[str, ...]:
    return (one.input.name, one.step, _per_cent(one.up), _per_cent(one.down))


def _per_cent(share: Fraction | None) -> str:
    return "cannot be moved so" if share is None else f"{float(share):+.2f} per cent"


def _beside(calculation: Calculation, variants: Sequence[tuple[str, Calculation]]) -> Section:
    calculations = [calculation, *(one for _, one in variants)]
    rows = [
        (capital(row.part), *(_pressure(at, row) for at in range(len(calculations)))) for row in beside(calculations)
    ]
    rows.append(("Lowest", *(f"{answer_shown(one.pressure)} lb/in²" if one.pressure else "–" for one in calculations)))
    head = ("Part", "As it is", *(f"What if: {name}" for name, _ in variants))
    sentences = ["A what-if is arithmetic for talking over. It allows nothing."]
    return Section(heading="What if", sentences=sentences, head=head, rows=rows, folded=False)


def _pressure(at: int, row: PartCompared) -> str:
    pressure = row.pressures[at]
    return "–" if pressure is None else f"{answer_shown(pressure)} lb/in²{' (governs)' if at in row.governs else ''}"
