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

# What works call these columns. Common practice, no source.
USUAL = {
    "subassembly": ("group", "assembly", "sub assembly", "section", "system", "area"),
    "position": ("part", "item", "component", "name", "part name", "piece", "what"),
    "side": ("hand", "handing", "lh rh", "l r"),
    "quantity": ("qty", "number off", "no off", "count", "how many"),
    "drawing": ("drg", "drg no", "drawing no", "drawing number"),
    "tag": ("tag no", "tag number", "id", "ref", "reference", "label", "our number"),
    "description": ("details",),
    "state": ("status", "condition", "stage", "progress"),
    "location": ("where", "where kept", "where is it", "bin", "box", "crate", "store", "stored", "place"),
    "safety_critical": ("safety", "critical", "safety critical part"),
    "crack_check": ("ndt", "crack test", "crack detection"),
    "notes": ("remarks", "remark", "comments", "comment", "note"),
    "part_of": ("goes in", "inside", "parent"),
}
GUESSES = {head_word(written): column for column, said_so in USUAL.items() for written in said_so}
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


TITLES = 8
"""So many rows may stand above the one that names the columns."""


def tidied(sheet: Sheet, words: Words) -> Sheet:
    """Without titles above the names of the columns; with the headings between its rows as the column subassembly."""
    return _with_sections(_without_titles(sheet, words), words)


def _without_titles(sheet: Sheet, words: Words) -> Sheet:
    first = [(0, sheet.heads), *sheet.rows[:TITLES]]
    names = [sum(_is_a_column(cell, words) for cell in cells) for _, cells in first]
    best = names.index(max(names))
    if not best or names[best] < 2:
        return sheet
    return replace(sheet, heads=first[best][1], rows=sheet.rows[best:])


def _is_a_column(head: str, words: Words) -> bool:
    word = head_word(head)
    return bool(word) and bool(word in COLUMNS or words.get(COLUMN, {}).get(word) or _guessed_column(word))


def _with_sections(sheet: Sheet, words: Words) -> Sheet:
    """A row with nothing but its first cell is a heading, in a list that has no column for what it says."""
    there = {head_word(_head(head, words)) for head in sheet.heads}
    there |= {GUESSES.get(word, "") for word in there}
    headings = {number for number, cells in sheet.rows if cells[0].strip() and not any(c.strip() for c in cells[1:])}
    if "subassembly" in there or not headings or len(headings) == len(sheet.rows) or LOOSE <= there:
        return sheet
    rows, heading, width = [], "", len(sheet.heads)
    for number, cells in sheet.rows:
        if number in headings:
            heading = clean(cells[0]).rstrip(":")
        else:
            rows.append((number, (*cells[:width], *[""] * (width - len(cells)), heading)))
    return replace(sheet, heads=(*sheet.heads, "subassembly"), rows=tuple(rows))


def matched(sheet: Sheet, words: Words) -> Sheet:
    """The list in our words."""
    heads = tuple(_head(head, words) for head in sheet.heads)
    known = {index: words[column] for index, head in enumerate(heads) if (column := head_word(head)) in words}
    if not known:
        return replace(sheet, heads=heads)
    rows = tuple(
        (number, tuple(_cell(cell, known.get(index), heads[index]) if index in known else cell
                       for index, cell in enumerate(cells)))
        for number, cells in sheet.rows
    )  # fmt: skip
    return replace(sheet, heads=heads, rows=rows)


def names_enough(heads: Iterable[str]) -> bool:
    """Whether these columns, in our words, make a list: of places, or of pieces without places."""
    there = {head_word(head) for head in heads}
    return set(REQUIRED) <= there or LOOSE <= there


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
    free = tuple(choice for choice in CHOICES[COLUMN] if choice[0] not in there)
    for head in strange:
        guess = _guessed_column(head_word(head))
        if lacks or guess:
            yield Question(COLUMN, clean(head), free, guess if guess not in there else "")


def _guessed_column(word: str) -> str:
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
    return str(STATES.get(begins, "") or next(iter(near), ""))


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
