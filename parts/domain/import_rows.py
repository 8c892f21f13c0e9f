"""The plain rows of an import: what the register has already, and what a list would add to it."""

from collections import Counter
from dataclasses import dataclass, field

from .importing import ListRow, PathKey, PlaceKey
from .register_cells import BadRow
from .words import Origin, State


@dataclass(slots=True, kw_only=True)
class KnownPiece:
    """A piece of the register, as far as a row of the list can differ from it."""

    id: int
    state: State
    name: str = ""
    code: str = ""
    works_number: str = ""
    location: tuple[str, ...] = ()
    marks: str = ""
    origin: str = ""
    origin_evidence: str = ""
    notes: str = ""
    broken_down: bool = False


@dataclass(slots=True, kw_only=True)
class KnownPlace:
    """A position of the register."""

    id: int
    key: PlaceKey
    words: str
    quantity: int = 1
    drawing: str = ""
    material: str = ""
    safety_critical: bool = False
    crack_check: str = ""
    part_of: int | None = None
    known_empty: bool = False
    retired: bool = False
    opened: bool = False
    notes: str = ""
    matched: str = ""


@dataclass(slots=True, kw_only=True)
class KnownLocation:
    id: int
    retired: bool = False
    on_locomotive: bool = False
    away: bool = False


@dataclass(slots=True, kw_only=True)
class Register:
    """What is there already, of one locomotive."""

    subassemblies: dict[PathKey, int] = field(default_factory=dict)
    places: dict[PlaceKey, KnownPlace] = field(default_factory=dict)
    pieces: dict[int, list[KnownPiece]] = field(default_factory=dict)  # by every place they were ever taken over for
    loose: Counter[tuple[str, PathKey]] = field(default_factory=Counter)  # pieces without a place, by name and location
    works_numbers: dict[str, str] = field(default_factory=dict)  # folded → what bears it
    codes: dict[str, str] = field(default_factory=dict)  # every tag asked about → what it is tied to, "" if unused
    locations: dict[PathKey, KnownLocation] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Difference:
    """What the list says otherwise than the register, which stays as it is."""

    row: int
    what: str
    column: str
    listed: str
    registered: str

    def __str__(self) -> str:
        return (
            f"row {self.row}, {self.what}, {self.column}: the file says {self.listed}, the register {self.registered}."
        )


@dataclass(frozen=True, slots=True)
class Note:
    row: int
    sentence: str

    def __str__(self) -> str:
        return f"row {self.row}: {self.sentence}"


@dataclass(slots=True, kw_only=True)
class ImportStep:
    """One row and what it adds."""

    row: ListRow
    key: PlaceKey
    known: KnownPlace | None
    adds_piece: bool = False
    adds_empty: bool = False
    code: str = ""  # an unused tag of ours to be tied
    location: PathKey = ()  # of a loose piece; () where nobody knows it
    quantity: int = 1  # of the piece
    outer: PlaceKey | None = None

    @property
    def withdraws(self) -> bool:
        return self.adds_piece and self.row.state is State.WITHDRAWN

    @property
    def adds_place(self) -> bool:
        return self.known is None

    @property
    def adds(self) -> bool:
        return self.adds_place or self.adds_piece or self.adds_empty


@dataclass(slots=True)
class ImportPlan:
    """Everything that the import would do, or why it can't."""

    steps: list[ImportStep] = field(default_factory=list)
    loose: list[ImportStep] = field(default_factory=list)  # pieces without a place
    subassemblies: dict[PathKey, tuple[str, ...]] = field(default_factory=dict)  # new ones, parents first
    locations: dict[PathKey, tuple[str, ...]] = field(default_factory=dict)  # new ones, outer ones first
    opened: set[PlaceKey] = field(default_factory=set)  # places whose built-up piece counts as broken down
    known_ids: dict[PlaceKey, int] = field(default_factory=dict)  # of the built-up places that were there already
    bad: list[BadRow] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    unchanged: int = 0  # rows that add nothing
    left_alone: tuple[str, ...] = ()  # columns
    other_sheets: tuple[str, ...] = ()

    @property
    def adds(self) -> bool:
        return bool(self.steps or self.loose)


LONGEST_NAME = 160


# --- where the words of a row are kept ---


def piece_name(row: ListRow) -> str:
    """What the piece is called: its description if that is short and of one line, else what its place is called."""
    if row.loose:
        return row.description.partition("\n")[0][:LONGEST_NAME]
    return row.description if row.description and _is_a_name(row.description) else row.position


def piece_notes(row: ListRow) -> str:
    description = "" if not row.description or _is_a_name(row.description) else row.description
    return "\n".join(filter(None, (description, row.notes)))


def loose_notes(row: ListRow) -> str:
    """What the name of a piece without a place does not say."""
    rest = "" if row.description == piece_name(row) else row.description
    parts = (rest, row.drawing and f"Drawing: {row.drawing}", row.material and f"Material: {row.material}", row.notes)
    return "\n".join(filter(None, parts))


def place_notes(row: ListRow) -> str:
    """A row without a piece: what it says of one is kept beside the place, so that nothing is lost."""
    origin = row.origin or row.origin_evidence
    parts = (row.description, row.marks and f"Marks: {row.marks}", origin and f"Origin: {origin}", row.notes)
    return "\n".join(filter(None, parts))


def _is_a_name(text: str) -> bool:
    return len(text) <= LONGEST_NAME and "\n" not in text


def piece_origin(row: ListRow) -> str:
    """A piece that is being made, or was made new, is new unless the list says otherwise."""
    if row.origin or row.origin_evidence:
        return row.origin or Origin.UNKNOWN.value
    made = row.state in (State.IN_THE_MAKING, State.RENEWED)
    return Origin.NEW.value if made else Origin.UNKNOWN.value
