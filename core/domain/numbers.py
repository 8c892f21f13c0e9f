"""Numbers as an address or a form gives them."""

MOST_DIGITS = 18
"""A database counts its rows with fewer than 2^63, and Python refuses to read more than 4,300 digits."""


def as_number(entered: object) -> int | None:
    """The number of a row, or None for anything that names none.

    >>> as_number("12"), as_number(""), as_number("9" * 5000)
    (12, None, None)
    """
    text = str(entered or "")
    return int(text) if text.isdecimal() and len(text) <= MOST_DIGITS else None
