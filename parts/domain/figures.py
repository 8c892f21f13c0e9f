"""Sums, hours and other plain numbers as they are typed: with a point or a comma, and with thousands set apart."""

import re
from collections.abc import Mapping
from decimal import Decimal

NOTATIONS: dict[re.Pattern[str], Mapping[int, int | None]] = {
    re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d*)?"): str.maketrans("", "", ","),  # 2,450.50
    re.compile(r"\d{1,3}(?:\.\d{3})+,\d+"): str.maketrans(",", ".", "."),  # 2.450,50
    re.compile(r"\d+,\d+"): str.maketrans(",", "."),  # 12,5
    re.compile(r"\d*\.?\d*"): {},  # 2450.50
}
"""Ways to write a number, each with what makes a plain one of it; the first that fits holds."""
SPACED = re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?")
TWO_WAYS = re.compile(r"\d{1,3},\d{3}")


class FigureError(ValueError):
    """What was typed is no number, or could be two; the sentence says what to write, if it is known."""


def read_figure(text: str, places: int) -> Decimal:
    """The number that was typed. `places` are the decimals that are kept of it: where three are, 2,450 could be two
    numbers, and is refused; where only two are, no decimals are meant.

    >>> read_figure("2,450.50", 2), read_figure("12,5", 2), read_figure("2 450", 2), read_figure("2,450", 2)
    (Decimal('2450.50'), Decimal('12.5'), Decimal('2450'), Decimal('2450'))
    """
    entered = text.strip().replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")
    sign = "-" if entered.startswith("-") else ""
    entered = entered.removeprefix("-")
    entered = entered.replace(" ", "") if SPACED.fullmatch(entered) else entered
    if places > 2 and TWO_WAYS.fullmatch(entered):
        whole, after = entered.split(",")
        raise FigureError(f"“{entered}” could be {whole}{after} or {whole}.{after}. Write it as one of them.")
    for form, change in NOTATIONS.items():
        if form.fullmatch(entered) and any(map(str.isdecimal, entered)):
            return Decimal(sign + entered.translate(change))
    raise FigureError
