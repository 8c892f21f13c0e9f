"""The grammar of one size: a hand-written reader that goes over the tokens once and never back over a guess.

    size    = gauge | number unit | feet [space | hyphen] inches | inches space ("plus" | "less") space thou
    gauge   = ( whole | whole "/" "0" ) system
    number  = whole | decimal | fraction | mixed | vulgar
    mixed   = whole ( space | hyphen ) proper fraction | whole [ space | hyphen ] vulgar
    fraction= whole "/" whole

No space may stand inside a fraction or beside the hyphen of a mixed number. Feet with inches after them are whole, and
the inches under 12.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import NoReturn

from .gauges import gauge
from .length_tokens import LengthError, Token, quoted, tokens
from .units import KNOWN, MM_IN_UNIT, GaugeSystem, Unit, meaning, refuse_word

NUMBERS = ("whole", "decimal", "vulgar")
MARKS = {"feet": Unit.FOOT, "inches": Unit.INCH}


@dataclass(frozen=True, slots=True)
class Number:
    value: Fraction
    kind: str  # "whole", "decimal", "fraction", "mixed"


@dataclass(frozen=True, slots=True)
class Size:
    """One size as it stands: a number and its unit (None when it has none), or several parts already added up in mm."""

    value: Fraction
    unit: Unit | None = None
    mm: Fraction | None = None  # of a gauge, of feet and inches, of inches and thou: parts with units of their own
    joined: bool = False  # by "plus" or "less"

    def in_mm(self, default: Unit | None) -> Fraction | None:
        if self.mm is not None:
            return self.mm
        unit = self.unit or default
        return None if unit is None else self.value * MM_IN_UNIT[unit]


class Reader:
    """The tokens of one text, read from left to right."""

    def __init__(self, text: str):
        self.text = text
        self.tokens = tokens(text)
        self.at = 0

    def peek(self, ahead: int = 0) -> Token:
        return self.tokens[min(self.at + ahead, len(self.tokens) - 1)]

    def take(self, *kinds: str) -> Token | None:
        token = self.tokens[self.at]
        if token.kind not in kinds or token.kind == "end":
            return None
        self.at += 1
        return token

    def rest(self) -> str:
        return self.text[self.peek().at :]

    def refuse(self, code: str, trouble: str, cure: str) -> NoReturn:
        raise LengthError(code, f"{quoted(self.text)} {trouble}", cure)

    # numbers

    def number(self) -> Number:
        token = self.take(*NUMBERS)
        if token is None:
            self.no_number()
        if token.kind == "vulgar":
            return Number(token.value, "fraction")
        if token.kind == "decimal":
            return Number(token.value, "decimal")
        if self.peek().kind == "slash" and self.peek(1).kind not in ("plus", "minus", "hyphen"):  # as in +1/-2 mm
            return Number(self.fraction(token), "fraction")
        part = self.fraction_after_whole()
        return Number(token.value, "whole") if part is None else Number(token.value + part, "mixed")

    def fraction(self, above: Token) -> Fraction:
        self.take("slash")
        below = self.take("whole")
        if below is None:
            self.refuse(
                "fraction", "has a fraction with no whole number below the line.", "Write it without spaces, as in 7/8."
            )
        if not below.value:
            self.refuse("fraction", "divides by nought.", "Write a fraction such as 7/8.")
        return above.value / below.value

    def fraction_after_whole(self) -> Fraction | None:
        """The fraction of a mixed number: after a space, a hyphen, or (a vulgar-fraction character) nothing."""
        joint = 1 if self.peek().kind in ("space", "hyphen") else 0
        first, second = self.peek(joint), self.peek(joint + 1)
        if first.kind == "vulgar":
            self.at += joint + 1
            return first.value
        if not (joint and first.kind == "whole" and second.kind == "slash"):
            return None
        self.at += joint + 1
        part = self.fraction(first)
        if part >= 1:
            self.refuse(
                "fraction",
                f"has a whole number with {part.numerator}/{part.denominator} after it, which is not less than one.",
                "Write whole and fraction so that the fraction is under one: 3 1/8 in.",
            )
        return part

    # units

    def unit(self) -> Unit | GaugeSystem | None:
        """The unit after a number, if one is there. A word glued to a figure after it is none, save feet (1ft3in)."""
        start = self.at
        self.take("space")
        mark = self.take("feet", "inches")
        if mark is not None:
            return MARKS[mark.kind]
        word = self.peek()
        found = meaning(word.text) if word.kind == "word" else None
        glued = self.peek(1).kind in ("whole", "decimal") and not word.text.endswith(".")
        if found is None or (glued and found is not Unit.FOOT):
            self.at = start
            return None
        self.at += 1
        return found

    # sizes

    def size(self) -> Size:
        if self.is_gauge():
            return self.gauge()
        number = self.number()
        unit = self.unit()
        if isinstance(unit, GaugeSystem):
            self.refuse(
                "gauge-number", "is no gauge number.", f"Gauge numbers are whole, or written 2/0: 10 {unit.name}."
            )
        if unit is Unit.FOOT and self.inches_follow():
            return self.feet_and_inches(number)
        if unit is Unit.INCH:
            return self.with_thou(Size(number.value, unit))
        return Size(number.value, unit)

    def is_gauge(self) -> bool:
        """Looks ahead for `10 SWG` and `7/0 SWG`, whose 7/0 is a name and no division."""
        ahead = 1
        if self.peek(1).kind == "slash" and self.peek(2).text == "0":
            ahead = 3
        if self.peek(ahead).kind == "space":
            ahead += 1
        word = self.peek(ahead)
        return self.peek().kind == "whole" and word.kind == "word" and isinstance(meaning(word.text), GaugeSystem)

    def gauge(self) -> Size:
        number = ""
        while token := self.take("whole", "slash"):
            number += "/" if token.kind == "slash" else token.text
        system = self.unit()
        if not isinstance(system, GaugeSystem):
            self.left_over()
        return Size(Fraction(0), None, gauge(system.name, number).mm)

    def inches_follow(self) -> bool:
        joint = 1 if self.peek().kind in ("space", "hyphen") else 0
        return self.peek(joint).kind in NUMBERS

    def feet_and_inches(self, feet: Number) -> Size:
        if feet.kind != "whole":
            self.refuse(
                "feet", "has a part of a foot and inches as well.", "Write whole feet and then inches: 4 ft 6 in."
            )
        self.take("space", "hyphen")
        inches = self.number()
        unit = self.unit()
        if unit is None and self.peek().kind == "end":
            self.refuse("no-unit", "has a number after the feet with no unit.", "Write the inches as such: 5 ft 6 in.")
        if unit is None:
            self.left_over()
        if unit is not Unit.INCH:
            self.refuse(
                "feet", "has something other than inches after the feet.", "Write feet and inches only: 1 ft 3 1/2 in."
            )
        if inches.value >= 12:
            self.refuse(
                "feet", "has 12 inches or more after the feet.", "Write the inches under 12, or all of it in inches."
            )
        size = Size(Fraction(0), None, feet.value * MM_IN_UNIT[Unit.FOOT] + inches.value * MM_IN_UNIT[Unit.INCH])
        return self.with_thou(size)

    def with_thou(self, size: Size) -> Size:
        """`5 7/8 in plus 2 thou`: how sizes are written back, so that they can be read again."""
        word = self.peek(1).text.lower() if self.peek().kind == "space" else ""
        if word not in ("plus", "less"):
            return size
        self.at += 2
        if self.take("space") is None:
            self.left_over()
        thou = self.number()
        if self.unit() is not Unit.THOU:
            self.refuse(
                "left-over", f"has something other than thou after {word}.", "Write it as 5 7/8 in plus 2 thou."
            )
        whole = size.in_mm(None)
        assert whole is not None  # of feet and inches, or of inches with their unit
        mm = whole + thou.value * MM_IN_UNIT[Unit.THOU] * (1 if word == "plus" else -1)
        if mm < 0:
            self.refuse("sign", "comes to less than nothing.", "Write a size above zero.")
        return Size(Fraction(0), None, mm, joined=True)

    # refusals

    def no_number(self) -> NoReturn:
        token = self.peek()
        if token.kind in ("minus", "hyphen"):
            self.refuse("sign", "begins with a minus or a dash.", "Write a size without a sign.")
        if token.kind == "plus":
            self.refuse("sign", "has a plus sign where a number should stand.", "Write a size without a sign.")
        if token.kind == "word" and meaning(token.text) is None:
            refuse_word(token.text, self.text)
        self.refuse("number", "has no number where one should stand.", "Write a number and its unit, as in 5 7/8 in.")

    def left_over(self) -> NoReturn:
        """Something stands after the size: whatever it is, it is named and never dropped."""
        self.take("space")
        token = self.peek()
        if token.kind in ("plus", "plusminus", "minus"):
            self.refuse(
                "toleranced", "is a size with a tolerance, where one size is asked for.", "Write the size alone."
            )
        if token.kind == "hyphen":
            self.refuse(
                "hyphen", "has a dash that could be a minus or a range.", "Write 5 7/8 in, or one size at a time."
            )
        if token.kind == "word":
            self.left_over_word(token)
        if token.kind in NUMBERS:
            self.refuse(
                "two-numbers",
                "has two numbers side by side that make no one number.",
                "Write 5 7/8 in, 5.875 in or 1 ft 3 in, and no space inside a number.",
            )
        if token.kind == "slash":
            self.refuse(
                "fraction", "has a stroke in the wrong place.", "Write one fraction without spaces, as in 5 7/8 in."
            )
        self.refuse(
            "left-over", f"has {quoted(self.rest())} left over.", "Write one number and its unit, as in 5 7/8 in."
        )

    def left_over_word(self, token: Token) -> NoReturn:
        if self.class_follows():
            self.refuse("toleranced", "has a tolerance class, where one size is asked for.", "Write the size alone.")
        if meaning(token.text) is None:
            refuse_word(token.text, self.text)
        self.refuse("left-over", f"has {quoted(self.rest())} left over.", f"Write one number and one unit: {KNOWN}.")

    def class_follows(self) -> bool:
        """The rest is shaped like H7 or js6: one or two letters and, without a space, a number."""
        word, figure = self.peek(), self.peek(1)
        shaped = (
            word.kind == "word" and len(word.text) <= 2 and word.text.lower() not in ("e", "x", "in", "ft", "mm", "cm")
        )
        return shaped and figure.kind == "whole" and figure.at == word.at + len(word.text)
