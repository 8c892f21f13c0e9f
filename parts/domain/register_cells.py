"""Reading the cells of a works' own list: what was written, or a sentence that says what to write instead."""

import re
import unicodedata
from dataclasses import dataclass

from .words import Method, Origin, Side, State

COLUMNS = (
    "subassembly",
    "position",
    "side",
    "axle",
    "end",
    "quantity",
    "drawing",
    "material",
    "safety_critical",
    "crack_check",
    "tag",
    "part_of",
    "description",
    "state",
    "location",
    "marks",
    "origin",
    "notes",
)
REQUIRED = ("subassembly", "position")
LONGEST = {
    "subassembly": 120,  # each part of the path
    "position": 120,
    "axle": 60,
    "end": 40,
    "drawing": 120,
    "material": 120,
    "tag": 60,
    "part_of": 300,
    "description": 2000,
    "location": 120,  # each part of the path
    "marks": 200,
    "origin": 300,
    "notes": 5000,
}
LONGEST_LOCATION_PATH = 500
MOST_PIECES = 100_000

EMPTY = "empty"
"""The word in the state column that is no state: the place was looked at and there is nothing in it."""


class CellError(ValueError):
    """What is wrong with a cell, and what would mend it."""

    def __init__(self, sentence: str, cure: str):
        self.sentence, self.cure = sentence, cure
        super().__init__(f"{sentence} {cure}")


@dataclass(frozen=True, slots=True)
class BadRow:
    """One thing that keeps a file out, as a person finds it in a spreadsheet."""

    row: int
    column: str
    sentence: str
    cure: str

    def __str__(self) -> str:
        return f"row {self.row}, column {self.column}: {self.sentence} {self.cure}"


def clean(text: str) -> str:
    """The text on one line: runs of blanks are one blank, and what does not print is gone."""
    if not (text.isascii() and text.isprintable()):
        text = "".join(_printing(character) for character in unicodedata.normalize("NFC", text))
    return " ".join(text.split())


def clean_lines(text: str) -> str:
    """As `clean`, but a note keeps its lines."""
    return "\n".join(filter(None, (clean(line) for line in text.splitlines())))


def _printing(character: str) -> str:
    kind = unicodedata.category(character)
    if kind == "Cc":
        return " "
    return "" if kind in ("Cf", "Cs", "Co", "Cn") else character


def fold(text: str) -> str:
    """How two cells are compared: whatever the case and spacing."""
    return " ".join(text.split()).casefold()


def word_key(text: str) -> str:
    """How a cell is compared with a list of words: whatever the case, spacing and hyphens."""
    return re.sub(r"[\s\-_./‐-―]+", "", text).casefold()


def path(text: str, column: str) -> tuple[str, ...]:
    """'Stores / Rack B / Crate 14' as its parts, from the largest on."""
    parts = tuple(clean(part) for part in text.split("/"))
    if not all(parts):
        raise CellError(
            f"“{short(text)}” has a blank part between its strokes.",
            "Write a name on both sides of each stroke, such as Motion / Left side.",
        )
    for part in parts:
        _not_too_long(part, column)
    if column == "location" and len(" / ".join(parts)) > LONGEST_LOCATION_PATH:
        raise CellError("The whole path is too long.", f"Shorten it to {LONGEST_LOCATION_PATH} characters.")
    return parts


def words(text: str, column: str) -> str:
    text = clean_lines(text) if column in ("notes", "description") else clean(text)
    _not_too_long(text, column)
    return text


def _not_too_long(text: str, column: str) -> None:
    most = LONGEST[column]
    if len(text) > most:
        raise CellError(f"“{short(text)}” has {len(text)} characters.", f"Shorten it to {most}.")


SIDES = {
    "": Side.NONE,
    **dict.fromkeys(("lh", "l", "left", "lefthand", "lefthandside", "lhs"), Side.LH),
    **dict.fromkeys(("rh", "r", "right", "righthand", "righthandside", "rhs"), Side.RH),
}


def side(text: str) -> str:
    found = SIDES.get(word_key(text))
    if found is None:
        raise CellError(
            f"“{short(text)}” is not a side.", "Write LH or RH, looking forward from the footplate, or leave it blank."
        )
    return found.value


YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔"})
NO = frozenset({"no", "n", "false", "0", ""})


def yes_or_no(text: str) -> bool:
    key = text.strip().casefold()
    if key in YES:
        return True
    if key in NO:
        return False
    raise CellError(f"“{short(text)}” is neither yes nor no.", "Write yes or no, or leave it blank for no.")


FIGURES = {word: str(number) for number, word in enumerate(
    ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
)} | dict.fromkeys(("pair", "a pair", "1 pair", "1 pr", "1 pr."), "2")  # fmt: skip


def _in_figures(text: str) -> str:
    first, space, rest = text.casefold().partition(" ")
    return FIGURES.get(text.casefold()) or f"{FIGURES.get(first, first)}{space}{rest}"


def quantity(text: str) -> int:
    text = text.strip()
    if not text:
        return 1
    whole = re.fullmatch(r"([0-9]{1,9})([.,]0{0,2})?(?: *(?:off|nos?\.?|pcs?\.?|pieces|ea))?", _in_figures(text))
    if not whole or int(whole[1]) < 1:
        raise CellError(
            f"“{short(text)}” is not a whole number of 1 or more.", "Write how many, or leave it blank for 1."
        )
    if int(whole[1]) > MOST_PIECES:
        raise CellError(f"“{short(text)}” is more than one place can take.", f"Write at most {MOST_PIECES}.")
    return int(whole[1])


# The short forms are those of ISO 9712 (MT, PT, UT) and those that workshops say (common practice, no source).
METHODS = {
    **dict.fromkeys(("", *NO, "none"), ""),
    **dict.fromkeys((*YES, "any", "anymethod"), Method.ANY.value),
    **dict.fromkeys(
        ("magneticparticle", "magneticparticles", "magneticparticleinspection", "magparticle", "mpi", "mt"),
        Method.MAGNETIC_PARTICLE.value,
    ),
    **dict.fromkeys(
        ("penetrant", "dyepenetrant", "liquidpenetrant", "dyepenetrantinspection", "dpi", "pt"), Method.PENETRANT.value
    ),
    **dict.fromkeys(("ultrasonic", "ultrasonics", "ultrasonictest", "ut"), Method.ULTRASONIC.value),
}


def crack_check(text: str) -> str:
    found = METHODS.get(word_key(text))
    if found is None:
        methods = ", ".join(method.value for method in Method if method is not Method.ANY)
        raise CellError(
            f"“{short(text)}” is not a way of looking for cracks.",
            f"Write {methods}, or yes for any of them, or leave it blank.",
        )
    return found


STATES = {word_key(state.value): state for state in State}


def state(text: str) -> State | str:
    """A state, `EMPTY`, or "" where nothing was written: a place not yet looked at."""
    key = word_key(text)
    if key in ("", EMPTY):
        return key
    if key not in STATES:
        raise CellError(
            f"“{short(text)}” is not a state.",
            f"Write one of: {', '.join(State)}, {EMPTY}; or leave it blank if nobody has looked yet.",
        )
    return STATES[key]


ORIGINS = {word_key(origin.value): origin for origin in Origin}


def origin(text: str) -> tuple[str, str]:
    """(origin, evidence). Words that are not ours are kept as they stand, as evidence for an origin not yet settled."""
    known = ORIGINS.get(word_key(text))
    if known or not text:
        return (known.value if known else ""), ""
    return "", text


def short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 40 else f"{text[:39]}…"
