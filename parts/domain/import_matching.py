"""What a works' list says in words of its own, matched with ours: columns, states, and names that are nearly known.

Whatever was matched once is remembered for the next file. A list is rewritten in our words before it is read.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from .folding import plain
from .importing import LOOSE, READERS, head_word
from .near_words import slips
from .register_cells import COLUMNS, EMPTY, REQUIRED, CellError, clean, fold, word_key
from .spreadsheets import Sheet
from .words import Method, State

COLUMN = "column"
Words = Mapping[str, Mapping[str, str]]
"""By column of ours (COLUMN: for the heads), what a list says, as compared, and what is meant. A column that means ""
is left alone; a word that means itself is none of ours, and its rows are bad."""

COLOURS = "row colour"
"""The head of a column that a workbook's rows have by their colour."""
# What works call these columns. Common practice, no source.
USUAL: dict[str, tuple[str, ...]] = {
    "subassembly": ("group", "assembly", "sub assembly", "section", "system", "area"),
    "position": ("part", "item", "component", "name", "part name", "piece", "what"),
    "side": ("hand", "handing", "lh rh", "l r"),
    "quantity": ("qty", "number off", "no off", "count", "how many", "off", "no", "nos", "pcs"),
    "drawing": ("drg", "drg no", "drawing no", "drawing number"),
    "tag": ("tag no", "tag number", "id", "ref", "reference", "label", "our number"),
    "description": ("details", "what is in it", "what it is", "contents", "content"),
    "state": ("status", "condition", "stage", "progress", "finding", COLOURS),
    "location": (
        "where",
        "where kept",
        "where is it",
        "where it lies",
        "bin",
        "bin no",
        "box",
        "box no",
        "box number",
        "crate",
        "crate no",
        "crate number",
        "rack",
        "shelf",
        "bay",
        "store",
        "stored",
        "place",
        "container",
    ),
    "safety_critical": ("safety", "critical", "safety critical part"),
    "crack_check": ("ndt", "crack test", "crack detection"),
    "notes": ("remarks", "remark", "comments", "comment", "note"),
    "part_of": ("goes in", "inside", "parent"),
}
GUESSES = {head_word(written): column for column, said_so in USUAL.items() for written in said_so}
JOINED = {"location": " / ", "notes": "\n", "description": ", ", "marks": ", ", "state": ""}
"""What several columns may say together: a rack and a bin. Of states the first that is said."""
STATES = {
    "off": State.STRIPPED, "removed": State.STRIPPED, "dismantled": State.STRIPPED, "washed": State.CLEANED,
    "clean": State.CLEANED, "fitted": State.REFITTED, "back on": State.REFITTED, "new": State.RENEWED,
    "making": State.IN_THE_MAKING,
    "on order": State.IN_THE_MAKING, "scrap": State.WITHDRAWN, "scrapped": State.WITHDRAWN, "missing": EMPTY,
    "not there": EMPTY, "on engine": State.IN_PLACE, "on loco": State.IN_PLACE,
}  # fmt: skip
"""What works call these states. Common practice, no source; each is a guess that a person confirms. Nothing is guessed
to be accepted: "ok" and "passed" are chosen by hand."""

BLANK = "-"
"""What stands for a cell that is to be read as blank."""
CHOICES: dict[str, tuple[tuple[str, str], ...]] = {
    COLUMN: tuple((column, column.replace("_", " ")) for column in COLUMNS),
    "state": (
        *((str(state), str(state)) for state in State),
        (EMPTY, "empty: nothing is there"),
        (BLANK, "nothing: nobody has looked yet"),
    ),
    "crack_check": (*((str(method), str(method)) for method in Method), (BLANK, "none")),
    "side": (("LH", "LH"), ("RH", "RH"), (BLANK, "neither")),
}
NAMED = ("subassembly", "position", "location")
MOST = 40
"""So many are asked at once."""
MOST_PAIRS = 40_000
SHORTEST = 5


@dataclass(frozen=True, slots=True)
class Question:
    """What the list says, where, and what it may mean. The first choice of a near name is the known one."""

    column: str
    written: str
    choices: tuple[tuple[str, str], ...]
    guess: str = ""

    @property
    def may_be_left(self) -> bool:
        """A column is left alone, the rows of a word are handed back; a name means something."""
        return self.column not in NAMED

    @property
    def asks(self) -> str:
        what = {COLUMN: "The column", "crack_check": "As a crack check"}.get(self.column, f"As a {self.column}")
        return f"{what} “{self.written}” means"

    @property
    def key(self) -> tuple[str, str]:
        return self.column, (head_word if self.column == COLUMN else fold)(self.written)


def matched(sheet: Sheet, words: Words) -> Sheet:
    """The list in our words."""
    heads = tuple(_head(head, words) for head in sheet.heads)
    sheet = _joined(replace(sheet, heads=heads))
    known = {index: words[column] for index, head in enumerate(sheet.heads) if (column := head_word(head)) in words}
    if not known:
        return sheet
    rows = tuple(
        (number, tuple(_cell(cell, known.get(index), sheet.heads[index]) if index in known else cell
                       for index, cell in enumerate(cells)))
        for number, cells in sheet.rows
    )  # fmt: skip
    return replace(sheet, rows=rows)


def _joined(sheet: Sheet) -> Sheet:
    """Of several columns that say one thing together, the first has all of it."""
    for column, between in JOINED.items():
        at = [index for index, head in enumerate(sheet.heads) if head_word(head) == column]
        if len(at) > 1:
            heads = [head if index not in at[1:] else "" for index, head in enumerate(sheet.heads)]
            rows = tuple((number, _with_one(cells, at, between)) for number, cells in sheet.rows)
            sheet = replace(sheet, heads=tuple(heads), rows=rows)
    return sheet


def _with_one(cells: tuple[str, ...], at: list[int], between: str) -> tuple[str, ...]:
    there = [cells[index].strip() for index in at if index < len(cells) and cells[index].strip()]
    joined = between.join(there if between else there[:1])
    return tuple(joined if index == at[0] else "" if index in at else cell for index, cell in enumerate(cells))


def names_enough(heads: Iterable[str]) -> bool:
    """Whether these columns, in our words, make a list: of places, or of pieces without places."""
    there = {head_word(head) for head in heads}
    return set(REQUIRED) <= there or LOOSE <= there


def meant(head: str, words: Words) -> str:
    """Which column of ours a head is, or may be."""
    word = head_word(head)
    answered = words.get(COLUMN, {})
    return answered[word] if word in answered else word if word in COLUMNS else guessed_column(head)


def _head(head: str, words: Words) -> str:
    return words.get(COLUMN, {}).get(head_word(head), "") or head


def _cell(cell: str, known: Mapping[str, str] | None, head: str) -> str:
    if not known:
        return cell
    if head_word(head) not in ("subassembly", "location"):
        meant = known.get(fold(cell), cell)
        return "" if meant == BLANK else meant
    return "/".join(known.get(fold(part), part) for part in cell.split("/"))


def questions(sheet: Sheet, words: Words, known: Mapping[str, Iterable[str]]) -> list[Question]:
    """What is still to be matched: the columns first, then the words in them. `known`: names by column."""
    return list(_columns(sheet, words))[:MOST] or list(_cells(matched(sheet, words), words, known))[:MOST]


def _columns(sheet: Sheet, words: Words) -> Iterator[Question]:
    """Where the list lacks a column that it needs, or has one whose name says which it may be."""
    answered = words.get(COLUMN, {})
    there = {head_word(_head(head, words)) for head in sheet.heads}
    lacks = not names_enough(there)
    strange = [head for head in sheet.heads if clean(head) and head_word(head) not in {*COLUMNS, *answered}]
    free = tuple(choice for choice in CHOICES[COLUMN] if choice[0] not in there or choice[0] in JOINED)
    for head in strange:
        guess = guessed_column(head)
        if lacks or guess:
            yield Question(COLUMN, clean(head), free, guess if guess not in there or guess in JOINED else "")
            there.add(guess)


def guessed_column(head: str) -> str:
    """Whatever the stops and strokes, and without what stands in brackets: “Drg. no.”, “Qty (off)”, “L/R”."""
    word = "_".join(re.findall(r"[^\W_]+", re.sub(r"\([^)]*\)", " ", clean(head).casefold())))
    near = [column for column in COLUMNS if len(word) >= SHORTEST and slips(word, column, 2) <= 2]
    return GUESSES.get(word) or next(iter(near), "")


def _cells(sheet: Sheet, words: Words, known: Mapping[str, Iterable[str]]) -> Iterator[Question]:
    columns = [head_word(head) for head in sheet.heads]
    for column in ("state", "crack_check", "side"):
        if column in columns:
            yield from _words_of(column, _texts(sheet, columns.index(column)), words.get(column, {}))
    for column in NAMED:
        if column in columns:
            texts = _texts(sheet, columns.index(column))
            names = texts if column == "position" else _parts(texts)
            yield from _near(column, names, known.get(column, ()), words.get(column, {}))


def _texts(sheet: Sheet, index: int) -> list[str]:
    return list(dict.fromkeys(clean(cells[index]) for _, cells in sheet.rows if index < len(cells) and cells[index]))


def _parts(paths: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(part for path in paths for each in path.split("/") if (part := clean(each))))


def _words_of(column: str, texts: Iterable[str], answered: Mapping[str, str]) -> Iterator[Question]:
    read: Callable[[str], object] = READERS[column]
    for text in texts:
        if fold(text) in answered:
            continue
        try:
            read(text)
        except CellError:
            yield Question(column, text, CHOICES[column], _guessed_state(text) if column == "state" else "")


def _guessed_state(text: str) -> str:
    """Of “stripped 3 May” the state that it begins with."""
    begins = fold(text)
    near = [state for state in State if slips(word_key(text), word_key(state), 1) <= 1 or begins.startswith(state)]
    usual = [state for word, state in STATES.items() if re.match(rf"{word}\b", begins)]
    return str(next(iter([*near, *usual]), ""))


def near_key(name: str) -> str:
    """How two names are alike whatever the hyphens and blanks, in the singular or the plural.

    >>> near_key("Axle boxes") == near_key("axle-box") == near_key("Axleboxes")
    True
    """
    words = plain(name).split()
    return "".join(re.sub(r"(?<=[sxz])es$|(?<=ch)es$|(?<=sh)es$|(?<!s)s$", "", word) for word in words)


def _near(column: str, names: list[str], known: Iterable[str], answered: Mapping[str, str]) -> Iterator[Question]:
    """New names beside ones that are known, or that the list itself has used before them."""
    there = {fold(name): name for name in known}
    alike: dict[str, list[str]] = defaultdict(list)
    for name in there.values():
        alike[near_key(name)].append(name)
    for name in names:
        if fold(name) in there or fold(name) in answered:
            continue
        found = alike[near_key(name)] or _slipped(name, alike, len(names))
        if found:
            choices = tuple((near, f"the same as {near}") for near in found[:3])
            yield Question(column, name, (*choices, (name, "another one")), found[0])
        there[fold(name)] = name
        alike[near_key(name)].append(name)


def _slipped(name: str, alike: Mapping[str, list[str]], count: int) -> list[str]:
    """One letter wrong in a long name; a name with a figure in it is told apart by that."""
    key = near_key(name)
    if len(key) < SHORTEST + 2 or any(c.isdecimal() for c in key) or len(alike) * count > MOST_PAIRS:
        return []
    return [near for other, names in alike.items() if abs(len(other) - len(key)) < 2 and slips(key, other, 1) <= 1
            for near in names]  # fmt: skip
