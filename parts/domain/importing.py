"""From the rows of a works' list to rows that mean something, with everything wrong with them told.

A list names its columns in its first row; `Sheet` is what the reader of files hands over. Nothing here knows of a
database.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from . import register_cells as cells
from .register_cells import COLUMNS, EMPTY, REQUIRED, BadRow, CellError, clean, fold
from .spreadsheets import Sheet, SheetError, Table, read_table
from .words import State

PathKey = tuple[str, ...]
PlaceKey = tuple[PathKey, str, str, str, str]


@dataclass(slots=True, kw_only=True)
class ListRow:
    """One row of the list, every cell read."""

    number: int
    path: tuple[str, ...] = ()
    position: str = ""
    side: str = ""
    axle: str = ""
    end: str = ""
    quantity: int = 1
    drawing: str = ""
    material: str = ""
    safety_critical: bool = False
    crack_check: str = ""
    tag: str = ""
    part_of: str = ""
    description: str = ""
    state: State | str = ""
    location: tuple[str, ...] = ()
    marks: str = ""
    origin: str = ""
    origin_evidence: str = ""
    notes: str = ""
    loose: bool = False  # a piece of which nobody knows the place
    bad: bool = False  # something in it could not be read; what could be is still set against the other rows

    @property
    def path_key(self) -> PathKey:
        return path_key(self.path)

    @property
    def key(self) -> PlaceKey:
        return place_key(self.path_key, self.position, self.side, self.axle, self.end)

    @property
    def has_piece(self) -> bool:
        return isinstance(self.state, State)

    @property
    def words(self) -> str:
        return place_words(self.position, self.side, self.axle, self.end)


@dataclass(slots=True)
class Listed:
    """The list as read: its rows in order, what is wrong, which columns it has and which of them we do not know."""

    rows: list[ListRow] = field(default_factory=list)
    loose: list[ListRow] = field(default_factory=list)  # pieces of which nobody knows the place
    bad: list[BadRow] = field(default_factory=list)
    columns: frozenset[str] = frozenset()
    left_alone: tuple[str, ...] = ()
    other_sheets: tuple[str, ...] = ()


def path_key(path: Iterable[str]) -> PathKey:
    return tuple(fold(part) for part in path)


def place_key(path: PathKey, name: str, side: str, axle: str, end: str) -> PlaceKey:
    """What a position is known by, whatever the case and spacing."""
    return path, fold(name), side, fold(axle), fold(end)


def place_words(name: str, side: str, axle: str, end: str) -> str:
    return ", ".join(filter(None, (name, side, axle, end)))


def head_word(text: str) -> str:
    """A column's name as it is compared: 'Safety critical' is safety_critical."""
    return "_".join(clean(text).casefold().replace("-", " ").replace("_", " ").split())


REGISTER = Table(
    knows=lambda head: head_word(head) in COLUMNS,
    has_all=lambda heads: {head_word(head) for head in heads} >= set(REQUIRED),
    most_rows=100_000,
    split_by="subassembly",
    row="position",
)


def read_sheet(content: bytes) -> Sheet:
    """The table of a works' list, from the bytes of a CSV or XLSX file; SheetError where it cannot be read."""
    return read_table(content, REGISTER)


def read(sheet: Sheet) -> Listed:
    """Every row read, every mistake told; raises SheetError when the first row does not name the columns."""
    at = _columns(sheet.heads)
    strangers = tuple(clean(head) for head in sheet.heads if clean(head) and head_word(head) not in COLUMNS)
    listed = Listed(columns=frozenset(at), left_alone=strangers, other_sheets=sheet.left_alone)
    for number, given in sheet.rows:
        if row := _read_row(number, given, at, len(sheet.heads), listed.bad):
            (listed.loose if row.loose else listed.rows).append(row)
    return listed


def _columns(heads: tuple[str, ...]) -> dict[str, int]:
    at: dict[str, int] = {}
    for index, head in enumerate(heads):
        word = head_word(head)
        if word in at:
            raise SheetError(f"Two columns are named {word}.", "Rename or take away one of them.")
        if word in COLUMNS:
            at[word] = index
    missing = [word for word in REQUIRED if word not in at]
    if missing and not at.keys() >= LOOSE:
        found = ", ".join(cells.short(head) for head in heads if head.strip()) or "nothing"
        raise SheetError(
            f"The first row must name the columns; it lacks {' and '.join(missing)} (it has {cells.short(found)}).",
            f"Name the columns {', '.join(REQUIRED)} and any of: {', '.join(COLUMNS[2:])}. A list of pieces without "
            "places needs description and location.",
        )
    return at


LOOSE = {"description", "location"}
"""What a list of pieces without places says of each."""
READERS: dict[str, Callable[[str], object]] = {
    "side": cells.side,
    "quantity": cells.quantity,
    "safety_critical": cells.yes_or_no,
    "crack_check": cells.crack_check,
    "state": cells.state,
}
IDENTITY = ("subassembly", "position", "side", "axle", "end")
PATHS = {"subassembly": "path", "location": "location"}


def _read_row(number: int, given: tuple[str, ...], at: dict[str, int], width: int, bad: list[BadRow]) -> ListRow | None:
    cells_of = {column: given[index].strip() if index < len(given) else "" for column, index in at.items()}
    loose = bool(cells_of.get("description")) and not any(cells_of.get(column) for column in REQUIRED)
    row, before = ListRow(number=number, loose=loose), len(bad)
    if len(given) > width and any(cell.strip() for cell in given[width:]):
        bad.append(
            BadRow(
                number, f"{width + 1}", "the row has more cells than there are columns.",
                "Put quotation marks around a text that has a comma or semicolon in it.",
            )
        )  # fmt: skip
    for column, index in at.items():
        text = given[index] if index < len(given) else ""
        if not text and (loose or column not in REQUIRED):
            continue
        try:
            _read_cell(row, column, text)
        except CellError as wrong:
            bad.append(BadRow(number, column, wrong.sentence, wrong.cure))
    if loose:
        bad.extend(_against_loose(row))
    elif not any(one.column == "state" for one in bad[before:]):
        bad.extend(_contradictions(row))
    row.bad = len(bad) > before
    if loose:
        return row
    known = row.path and row.position and not any(one.column in IDENTITY for one in bad[before:])
    return row if known else None


def _read_cell(row: ListRow, column: str, text: str) -> None:
    if column in REQUIRED and not text.strip():
        raise CellError("It is blank.", f"Write the {column}.")
    if text.strip() in SPREADSHEET_ERRORS:
        raise CellError(f"The cell holds the spreadsheet's error {text}.", "Mend the formula, or write the value.")
    if column in PATHS:
        if text.strip():
            setattr(row, PATHS[column], cells.path(text, column))
    elif column == "origin":
        row.origin, row.origin_evidence = cells.origin(cells.words(text, column))
    elif reader := READERS.get(column):
        setattr(row, column, reader(text))
    else:
        setattr(row, column, cells.words(text, column))


SPREADSHEET_ERRORS = frozenset({"#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NULL!", "#NUM!"})


WITHOUT_PLACE = (State.STRIPPED, State.CLEANED, State.WITHDRAWN)


def _against_loose(row: ListRow) -> Iterator[BadRow]:
    """Without a place nothing goes past cleaned; what says nothing of its state lies stripped in its crate."""
    if row.state == "":
        row.state = State.STRIPPED
    if row.state not in WITHOUT_PLACE:
        cure = f"Write {', '.join(WITHOUT_PLACE)}; or name its subassembly and position."
        yield BadRow(row.number, "state", f"a piece without a place is not {row.state}.", cure)


def _contradictions(row: ListRow) -> Iterator[BadRow]:
    if row.has_piece:
        return
    for column in ("tag", "location"):
        if not getattr(row, column):
            continue
        if row.state == EMPTY:
            yield BadRow(
                row.number, column, "a place that is empty has no piece to bear it.",
                "Leave it blank; or, if there is a piece somewhere, write its state, such as withdrawn.",
            )  # fmt: skip
        else:
            yield BadRow(
                row.number, column, "there is no state, so there is no piece to bear it.",
                "Write the state of the piece, or leave this blank.",
            )  # fmt: skip
