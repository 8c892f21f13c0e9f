"""How a formula of the boiler is printed on a calculation sheet: step by step, in symbols and in figures.

Each step says what it works out, by which formula, and the same with figures put in, so that a second person works it
again with a pencil. The arithmetic is that of the boiler_* modules.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

from .exact import Number, exact

Values = Mapping[str, Fraction]
SHOWN_FIGURES = 7
ANSWER_FIGURES = 4


@dataclass(frozen=True, slots=True)
class Step:
    """One printed line. `numbers` is the formula with {name} for each figure; `work` gives the result."""

    name: str
    kind: str
    formula: str
    numbers: str
    work: Callable[[Values], Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """`inputs` is name to kind; `defaults` are figures that need not be given. The last step is the answer.

    `imperial` formulas hold in inches, lb/in² and what their inputs say, and in nothing else.
    """

    title: str
    cited: str
    inputs: Mapping[str, str]
    steps: tuple[Step, ...]
    defaults: Mapping[str, Fraction] | None = None
    imperial: bool = False

    @property
    def kind(self) -> str:
        return self.steps[-1].kind


def pressure(
    title: str,
    cited: str,
    inputs: Mapping[str, str],
    formula: str,
    numbers: str,
    function: Callable[..., Number],
    *,
    defaults: Mapping[str, Fraction] | None = None,
    imperial: bool = False,
) -> Method:
    """A pressure by one formula, worked by a function that takes the inputs in their order."""
    step = Step("pressure", "pressure", formula, numbers, worked_by(function, *inputs))
    return Method(title=title, cited=cited, inputs=inputs, steps=(step,), defaults=defaults, imperial=imperial)


def least(
    title: str,
    cited: str,
    inputs: Mapping[str, str],
    formula: str,
    numbers: str,
    function: Callable[..., Number],
    *,
    imperial: bool = False,
) -> Method:
    """A thickness that a pressure needs, by one formula, worked by a function that takes the inputs in their order."""
    step = Step("thickness", "length", formula, numbers, worked_by(function, *inputs))
    return Method(title=title, cited=cited, inputs=inputs, steps=(step,), imperial=imperial)


def worked_by(function: Callable[..., Number], *names: str) -> Callable[[Values], Fraction]:
    """A step worked by a function of the boiler_* modules, its arguments taken by name."""
    return lambda values: exact(function(*(values[name] for name in names)), "The result")


def shown(number: Fraction) -> str:
    """As it is printed: whole where it ends within seven figures, else rounded to seven."""
    return _figures(number, SHOWN_FIGURES, ROUND_HALF_UP)


def answer_shown(number: Fraction) -> str:
    """To four figures, rounded down: a pressure allowed is never told higher than it is."""
    return _figures(number, ANSWER_FIGURES, ROUND_DOWN)


def _figures(number: Fraction, figures: int, rounding: str) -> str:
    """No exponents, no separators."""
    with localcontext() as context:
        context.prec, context.rounding = figures, rounding
        rounded = Decimal(number.numerator) / Decimal(number.denominator)
    return f"{rounded.normalize():f}" if rounded else "0"
