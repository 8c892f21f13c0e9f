"""Deflections of a hydraulic test at named points, each a line of text: before, under pressure and after.

Worked example: `crown, middle: 0, 0.4, 0.1 mm` moved 0.4 mm under pressure and kept 0.1 mm. What a point that did not
come back means, the competent person says.
"""

import re
from collections.abc import Iterator
from fractions import Fraction

from .boiler_papers import Section
from .lengths import parse_length
from .two_units import in_both

LINE = re.compile(r"(.+?)\s*:\s*(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*(mm|in)\.?")
Deflection = tuple[str, Fraction, Fraction, Fraction]


def read_deflections(typed: str) -> Iterator[Deflection]:
    """Name, before, under and after in millimetres, of each line that is written so."""
    for line in typed.splitlines():
        if found := LINE.fullmatch(line.strip()):
            name, *sizes, unit = found.groups()
            before, under, after = (_signed(size, unit) for size in sizes)
            yield name, before, under, after


def deflection_section(typed: str) -> Section | None:
    rows = [
        (name, in_both(before, "mm"), in_both(under - before, "mm"), in_both(after - before, "mm"))
        for name, before, under, after in read_deflections(typed)
    ]
    kept = [name for name, before, _, after in read_deflections(typed) if after != before]
    told = f"Did not come back: {', '.join(kept)}. Ask the competent person what that means." if kept else ""
    if not rows:
        return None
    head = ("Where", "Before", "Moved under pressure", "Kept after it")
    return Section(heading="Deflections", head=head, rows=rows, sentences=[told] if told else [], folded=not kept)


def _signed(size: str, unit: str) -> Fraction:
    length = parse_length(size.removeprefix("-"), unit)
    return -length if size.startswith("-") else length
