"""Drawings in words: how their numbers compare, how old they are, and how it is known what they are good for. Pure."""

import re
from datetime import date
from enum import StrEnum

from .plain import day


class HowKnown(StrEnum):
    """How it is known that a drawing is good for a locomotive."""

    ON_IT = "on the drawing"  # its title block names it
    NOTE = "from a note on it"  # somebody wrote it there later
    MEASURED = "by measuring"  # pieces were compared with it
    TRADITION = "by tradition"  # it has always been said


def number_key(number: str) -> str:
    """What stays of a number when case, spaces and punctuation are left out: by this two numbers are compared.

    >>> number_key("GW/114 - b"), number_key("gw 114B")
    ('gw114b', 'gw114b')
    """
    return "".join(letter for letter in number.casefold() if letter.isalnum())


def numbers_in(text: str) -> list[str]:
    """The numbers that a line of text names: several are set apart by a comma, a semicolon, or 'and'.

    >>> numbers_in("742/31, 742/32 and GA 5")
    ['742/31', '742/32', 'GA 5']
    """
    return [part.strip() for part in re.split(r"[,;]|\band\b", text) if part.strip()]


def read_date(text: str, today: date) -> tuple[int | None, date | None]:
    """A year alone, a whole day like 1911-03-31, or nothing where it is not known. Raises `ValueError` with what would
    mend it."""
    text = " ".join(text.split())
    if not text:
        return None, None
    if re.fullmatch(r"\d{4}", text):
        year, whole = int(text), None
    else:
        try:
            whole = date.fromisoformat(text)
        except ValueError:
            raise ValueError(
                f"“{text[:20]}” is no date. Write a year such as 1911, or a day such as 1911-03-31."
            ) from None
        year = whole.year
    if year < 1700 or (whole or date(year, 1, 1)) > today:
        raise ValueError("It cannot have been drawn then. Write the year or the day written on it.")
    return year, whole


def dated(year: int | None, whole: date | None) -> str:
    """The date as it is known."""
    if whole:
        return day(whole)
    return str(year) if year else ""
