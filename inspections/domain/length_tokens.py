"""The smallest pieces of a typed size, and the refusal of whatever cannot be one.

Every character of the text ends up in one token or in a refusal: nothing is skipped, so nothing is ignored later.
"""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import NoReturn

LONGEST_TEXT = 120
LONGEST_NUMBER = 40
"""A size needs a dozen digits at most; a float written in full needs about twenty-five."""


class LengthError(ValueError):
    """A size that cannot be read: `sentence` says what is wrong, `cure` what to write, `code` is for programs."""

    def __init__(self, code: str, sentence: str, cure: str):
        super().__init__(f"{sentence} {cure}")
        self.code, self.sentence, self.cure = code, sentence, cure


@dataclass(frozen=True, slots=True)
class Token:
    kind: str  # "whole", "decimal", "vulgar", "word", "space", "feet", "inches", "end", or the sign itself
    text: str
    at: int
    value: Fraction = Fraction(0)


VULGAR = {
    "¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10), "⅓": (1, 3), "⅔": (2, 3),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6),
    "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip

SPACES = "[ \t\u00a0\u2000-\u200a\u202f\u205f\u3000]+"
"""Space, tab, the unbroken space and the thin ones: a phone or a word processor puts them in unasked."""

SHAPES = re.compile(
    rf"""(?P<space>{SPACES})
    |(?P<decimal>[0-9]*\.[0-9]+)
    |(?P<whole>[0-9]+)
    |(?P<vulgar>[{"".join(VULGAR)}])
    |(?P<inches>["\u201c\u201d\u2033]|''|\u2019\u2019|\u2032\u2032)
    |(?P<feet>['\u2018\u2019\u2032])
    |(?P<word>[A-Za-z]+(?:\.[A-Za-z]+)*\.?)
    |(?P<slash>[/\u2044])
    |(?P<hyphen>[-\u2010\u2011])
    |(?P<minus>\u2212)
    |(?P<plus>\+)
    |(?P<plusminus>±)""",
    re.VERBOSE,
)

CROSSES = "×*✕✖⨯"
HYPHENS_TOO_LONG = "‒–—―"
LOOK_ALIKE_SLASHES = "∕÷⧸／"


def quoted(text: str) -> str:
    """The text as it may stand in a sentence: short, and without characters that would not show."""
    shown = "".join(c if c.isprintable() else " " for c in text).strip()
    return f"“{shown[:40]}…”" if len(shown) > 40 else f"“{shown}”"


def tokens(text: str) -> list[Token]:
    """The tokens of a typed size, with an end token last, or a LengthError at the first character that fits nowhere."""
    found: list[Token] = []
    at = 0
    while at < len(text):
        match = SHAPES.match(text, at)
        if match is None:
            refuse_character(text, at)
        kind = match.lastgroup or ""
        found.append(_token(kind, match.group(), at))
        at = match.end()
    found.append(Token("end", "", at))
    return found


def clean(text: object) -> str:
    """The text without the blanks around it, if it is a text of a length that a size can have."""
    if not isinstance(text, str):
        raise LengthError(
            "not-text", f"A size is read from text, not from {type(text).__name__}.", "Write it, as in 5 7/8 in."
        )
    stripped = text.strip()
    if not stripped:
        raise LengthError("empty", "No size is given.", "Write a number and its unit, as in 5 7/8 in or 149.2 mm.")
    if len(stripped) > LONGEST_TEXT:
        raise LengthError(
            "too-long",
            f"{quoted(stripped)} is too long for a size ({len(stripped)} characters).",
            "Write one number and its unit.",
        )
    return stripped


def _token(kind: str, text: str, at: int) -> Token:
    if kind == "vulgar":
        return Token(kind, text, at, Fraction(*VULGAR[text]))
    if kind not in ("whole", "decimal"):
        return Token(kind, text, at)
    if len(text) > LONGEST_NUMBER:
        raise LengthError(
            "digits", f"{quoted(text)} has too many digits for a size.", "Write the digits that were measured."
        )
    whole = text.partition(".")[0]
    if len(whole) > 1 and whole.startswith("0"):
        raise LengthError(
            "leading-zero",
            f"{quoted(text)} begins with a zero, as if a point or a figure were missing.",
            f"Write {whole.lstrip('0') or '0'} or 0.{whole.lstrip('0') or '0'}, whichever is meant.",
        )
    return Token(kind, text, at, Fraction(text))


def refuse_character(text: str, at: int) -> NoReturn:
    """The character at `at` belongs to no size: say which, and what to write."""
    char = text[at]
    if char in ",٫٬‚":
        raise LengthError(
            "comma",
            f"{quoted(text)} has a comma, which is a decimal sign to some and parts thousands to others.",
            "Write a point for decimals and nothing between thousands: 25.4 mm, 1234 mm.",
        )
    if char == ".":
        raise LengthError(
            "point",
            f"{quoted(text)} has a point with no figure after it.",
            "Write 5 or 5.0, and only one point: 5.875 in.",
        )
    if char in CROSSES:
        raise LengthError("two-sizes", f"{quoted(text)} is more than one size.", "Write each size by itself.")
    if char in HYPHENS_TOO_LONG:
        raise LengthError(
            "hyphen",
            f"{quoted(text)} has a long dash, which could be a range or a sign.",
            "Write a space between whole and fraction: 5 7/8 in.",
        )
    if char in LOOK_ALIKE_SLASHES:
        raise LengthError("fraction", f"{quoted(text)} has an unusual stroke.", "Write fractions with /, as in 7/8 in.")
    if char.isnumeric():
        raise LengthError(
            "digits",
            f"{quoted(text)} has the figure {char} ({_name(char)}), which is not a plain one.",
            "Write plain figures 0 to 9, and fractions as 7/8.",
        )
    raise LengthError(
        "character",
        f"{quoted(text)} has the character {_shown(char)} in it, which belongs to no size.",
        "Write one number and its unit, as in 5 7/8 in or 149.2 mm.",
    )


def _name(char: str) -> str:
    return unicodedata.name(char, "").lower() or f"U+{ord(char):04X}"


def _shown(char: str) -> str:
    return f"{char} ({_name(char)})" if char.isprintable() and not char.isspace() else _name(char)
