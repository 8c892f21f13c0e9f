"""Sheet and wire gauges. One number means three thicknesses: a gauge number is read only with its system's name."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from .length_tokens import LengthError
from .tables import rows

SYSTEMS = {
    "SWG": "Imperial Standard Wire Gauge",
    "BG": "Birmingham sheet gauge",
    "BWG": "Birmingham wire gauge",
}

DOUBTFUL = "doubtful"


@dataclass(frozen=True, slots=True)
class Gauge:
    """One row of a gauge table. The thickness is the table's inches, exactly; millimetres are worked out from them."""

    system: str
    number: str
    inches: Fraction
    source: str
    note: str

    @property
    def mm(self) -> Fraction:
        return self.inches * Fraction(127, 5)


@cache
def _table() -> dict[tuple[str, str], Gauge]:
    return {
        (row["system"], row["number"]): Gauge(
            row["system"], row["number"], Fraction(row["inches"]), row["source"], row["note"]
        )
        for row in rows("gauges")
    }


def gauge(system: str, number: str) -> Gauge:
    """The gauge of that number ("10", "7/0") in a system ("SWG", "BG", "BWG"), or a LengthError. 1/0 is 0."""
    found = _table().get((system, "0" if number == "1/0" else number))
    if found is None:
        raise LengthError(
            "gauge-number",
            f"There is no {number} {system} in the table ({SYSTEMS[system]}).",
            f"It goes from {_ends(system)}; large ones are written 2/0, 3/0. Otherwise measure it and write mm or in.",
        )
    if found.note.startswith(DOUBTFUL):
        raise LengthError(
            "gauge-number",
            f"The tables of {system} disagree about {number} ({found.note.removeprefix(DOUBTFUL + ': ')}).",
            "Measure it and write mm or in.",
        )
    return found


def _ends(system: str) -> str:
    numbers = [number for name, number in _table() if name == system]
    return f"{numbers[0]} to {numbers[-1]}"
