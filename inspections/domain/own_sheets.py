"""A railway's own limit sheet, from CSV or a workbook: every row whole, or nothing; each trouble with row and mend.

Columns, in any order: position (the kind of place), dimension, unit (mm or in), and any of letter, drawing size (with
its tolerance, or an ISO 286 class), shop limit, scrapping limit, wears (smaller, larger or either), limit itself
(passes or fails), clause, source, note. A shop or scrapping limit is one size, on the side to which the dimension
wears, or two, as in `4.9 in to 5.1 in`. Whether the value exactly on a limit passes or fails is never guessed.

Worked example: `Driving axle;A;journal diameter;in;5 in +0.000 -0.002;4 7/8 in;4 3/4 in;smaller;passes;4.2;Sheet 7`.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Any, TypeVar

from parts.domain.importing import head_word
from parts.domain.register_cells import clean, fold, word_key
from parts.domain.spreadsheets import Sheet, SheetError, Table, read_table

from .classes import Wears
from .lengths import LengthError, parse_length, parse_toleranced
from .limits import Limits
from .units import Unit, meaning


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that keeps a sheet out. Row 0 is the file as a whole."""

    row: int
    column: str
    sentence: str
    cure: str

    def __str__(self) -> str:
        at = f"row {self.row}, column {self.column}" if self.row else "the file"
        return f"{at}: {self.sentence} {self.cure}"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One row as read. Limits in exact mm; `shop_open` and `scrapping_open`: the value exactly on it fails."""

    number: int
    applies_to: str
    item: str
    unit: str
    letter: str = ""
    wears: str = Wears.EITHER.value
    drawing: str = ""
    iso_class: str = ""
    new_lower: Fraction | None = None
    new_upper: Fraction | None = None
    shop_lower: Fraction | None = None
    shop_upper: Fraction | None = None
    scrapping_lower: Fraction | None = None
    scrapping_upper: Fraction | None = None
    shop_open: bool = False
    scrapping_open: bool = False
    clause: str = ""
    source: str = ""
    note: str = ""

    def limits(self) -> Limits:
        return Limits.of(self, unit=self.unit, wears=self.wears)


NEEDED = ("position", "dimension", "unit")
LONGEST = {
    "position": 120, "letter": 8, "dimension": 200, "unit": 40, "drawing size": 80, "shop limit": 80,
    "scrapping limit": 80, "wears": 40, "limit itself": 40, "clause": 80, "source": 200, "note": 300,
}  # fmt: skip
ALSO = {
    "limit_itself_passes/fails": "limit itself",
    "limit_itself_passes_or_fails": "limit itself",
    "clause/source": "source",
    "drawing": "drawing size",
}


KNOWN = {head_word(name): name for name in LONGEST} | ALSO
OWN_SHEET = Table(
    knows=lambda head: head_word(head) in KNOWN,
    has_all=lambda heads: {KNOWN.get(head_word(head)) for head in heads} >= set(NEEDED),
    most_rows=5_000,
    split_by="the kind of place",
    row="dimension",
)


class _Cell(ValueError):
    """What is wrong with one cell, and what would mend it."""

    def __init__(self, column: str, sentence: str, cure: str):
        self.column, self.sentence, self.cure = column, sentence, cure
        super().__init__(sentence)


def read_sheet(content: str | bytes | Sheet) -> tuple[tuple[SheetLine, ...], tuple[Trouble, ...]]:
    """The rows of a sheet, or no rows and the troubles. It may be a file's bytes, a text, or a table that was read."""
    try:
        sheet = content if isinstance(content, Sheet) else read_table(content, OWN_SHEET)
    except SheetError as wrong:
        return (), (Trouble(0, "", wrong.sentence, wrong.cure),)
    at, troubles = _columns(sheet.heads)
    lines: list[SheetLine] = []
    if not troubles:
        for number, cells in sheet.rows:
            line = _line(number, cells, at, len(sheet.heads), troubles)
            lines += [line] if line else []
        troubles += _twice(lines)
    return (() if troubles else tuple(lines)), tuple(sorted(troubles, key=lambda one: one.row))


def _columns(heads: tuple[str, ...]) -> tuple[dict[str, int], list[Trouble]]:
    at: dict[str, int] = {}
    troubles = []
    for index, head in enumerate(heads):
        name = KNOWN.get(head_word(head))
        if name is None and head.strip():
            cure = f"Name it one of: {', '.join(LONGEST)}; or take it away."
            troubles.append(Trouble(1, clean(head)[:40], "This column is not known here.", cure))
        elif name in at:
            troubles.append(Trouble(1, name, "Two columns are named this.", "Rename or take away one of them."))
        elif name is not None:
            at[name] = index
    for name in NEEDED:
        if name not in at:
            troubles.append(Trouble(1, name, "The first row does not name this column.", f"Add a column {name}."))
    return at, troubles


Read = dict[str, Any]
"""What was read of a row so far, by the fields of a `SheetLine`."""


def _line(
    number: int, cells: tuple[str, ...], at: dict[str, int], width: int, troubles: list[Trouble]
) -> SheetLine | None:
    """One row, or None with its troubles told: all of them, not the first alone."""
    texts = {name: clean(cells[index]) if index < len(cells) else "" for name, index in at.items()}
    before = len(troubles)
    if any(cell.strip() for cell in cells[width:]):
        cure = "Put quotation marks around a text that has a comma or semicolon in it."
        troubles.append(Trouble(number, f"{width + 1}", "The row has more cells than there are columns.", cure))
    read: Read = {}
    for reader in (_plain, _unit, _wears, _on_the_limit, _drawing, _shop, _scrapping, _source):
        try:
            reader(texts, read)
        except _Cell as wrong:
            troubles.append(Trouble(number, wrong.column, wrong.sentence, wrong.cure))
    if len(troubles) > before:
        return None
    line = SheetLine(number=number, **read)
    try:
        if not line.limits().any:
            raise ValueError("The row sets no limit.")
    except ValueError as wrong:
        column = "scrapping limit" if "scrapping" in str(wrong) else "shop limit"
        cure = "Give a drawing size, a shop limit or a scrapping limit, each inside the next."
        troubles.append(Trouble(number, column, str(wrong), cure))
        return None
    return line


def _plain(texts: dict[str, str], read: Read) -> None:
    for name, most in LONGEST.items():
        if len(texts.get(name, "")) > most:
            raise _Cell(name, f"It has {len(texts[name])} characters.", f"Shorten it to {most}.")
    for name in ("position", "dimension"):
        if not texts[name]:
            raise _Cell(name, "It is blank.", f"Write the {name}.")
    read.update(applies_to=texts["position"], item=texts["dimension"])
    read.update({name: texts.get(name, "") for name in ("letter", "clause", "source", "note")})


def _unit(texts: dict[str, str], read: Read) -> None:
    found = meaning(texts["unit"])
    if found not in (Unit.MM, Unit.INCH):
        raise _Cell("unit", f"“{texts['unit']}” is not a unit that drawings use here.", "Write mm or in.")
    read["unit"] = found.value


def _wears(texts: dict[str, str], read: Read) -> None:
    word = fold(texts.get("wears", "")) or Wears.EITHER.value
    if word not in tuple(Wears):
        raise _Cell("wears", f"“{texts['wears']}” is no direction of wear.", f"Write {', '.join(Wears)}.")
    read["wears"] = word


def _on_the_limit(texts: dict[str, str], read: Read) -> None:
    limits = [name for name in ("shop limit", "scrapping limit") if texts.get(name)]
    word = word_key(texts.get("limit itself", ""))
    if word not in ("passes", "fails") and (word or limits):
        words = f"“{texts['limit itself']}” does not say" if word else "Nothing says"
        raise _Cell(
            "limit itself", f"{words} whether the value exactly on the limit is good.", "Write passes or fails."
        )
    read.update(
        shop_open=word == "fails" and "shop limit" in limits,
        scrapping_open=word == "fails" and "scrapping limit" in limits,
    )


def _drawing(texts: dict[str, str], read: Read) -> None:
    text = texts.get("drawing size", "")
    if not text or "unit" not in read:
        return
    size = _sized("drawing size", lambda: parse_toleranced(text, read["unit"]))
    read.update(drawing=text, iso_class=size.iso_class, new_lower=size.least_mm, new_upper=size.most_mm)


def _shop(texts: dict[str, str], read: Read) -> None:
    _limit(texts, read, "shop limit", "shop")


def _scrapping(texts: dict[str, str], read: Read) -> None:
    _limit(texts, read, "scrapping limit", "scrapping")


def _limit(texts: dict[str, str], read: Read, column: str, name: str) -> None:
    text = texts.get(column, "")
    if not text or "unit" not in read or "wears" not in read:
        return
    sizes = [_sized(column, partial(parse_length, part, read["unit"])) for part in text.split(" to ")]
    if len(sizes) == 2:
        read.update({f"{name}_lower": min(sizes), f"{name}_upper": max(sizes)})
    elif len(sizes) > 2:
        raise _Cell(column, f"“{text}” is more than two sizes.", "Write one size, or two as in 4.9 in to 5.1 in.")
    elif read["wears"] == Wears.EITHER:
        raise _Cell(
            column,
            "One size is given, and the dimension may wear either way.",
            "Say in the column wears whether it gets smaller or larger, or write two sizes, as in 4.9 in to 5.1 in.",
        )
    else:
        read[f"{name}_{'lower' if read['wears'] == Wears.SMALLER else 'upper'}"] = sizes[0]


def _source(texts: dict[str, str], read: Read) -> None:
    if not texts.get("source") and not texts.get("clause"):
        raise _Cell("source", "The source of the limit is missing.", "Write the source or the clause.")


Size = TypeVar("Size")


def _sized(column: str, read: Callable[[], Size]) -> Size:
    try:
        return read()
    except LengthError as wrong:
        raise _Cell(column, wrong.sentence, wrong.cure) from None


def _twice(lines: Iterable[SheetLine]) -> list[Trouble]:
    first: dict[tuple[str, str], int] = {}
    troubles = []
    for line in lines:
        key = (fold(line.applies_to), fold(line.item))
        if key in first:
            sentence = f"Row {first[key]} has this dimension of this kind of place already."
            troubles.append(Trouble(line.number, "dimension", sentence, "Take one of them away, or name them apart."))
        first.setdefault(key, line.number)
    return troubles
