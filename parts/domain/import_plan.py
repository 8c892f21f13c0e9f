"""What an import would do: each row set against the register, pure. An import only adds.

A row whose place or piece is there already changes nothing; where the two differ, the difference is named. All or
nothing: while one row is bad, nothing is written.
"""

from dataclasses import replace

from .import_built_up import BuiltUp
from .import_rows import (
    Difference,
    ImportPlan,
    ImportStep,
    KnownPiece,
    KnownPlace,
    Note,
    Register,
    piece_name,
    piece_notes,
    place_notes,
)
from .importing import Listed, ListRow, PlaceKey, path_key
from .register_cells import EMPTY, BadRow, fold, short
from .tagcodes import grouped, is_code, normalise
from .words import LIVE, State

FITTED = frozenset({State.IN_PLACE, State.REFITTED})
MAY_LIE_ON_THE_LOCOMOTIVE = frozenset({State.STRIPPED, State.CLEANED})
BESIDE_AN_EMPTY_PLACE = frozenset({State.WITHDRAWN, State.IN_THE_MAKING})
"""States of a piece that does not fill its place, so that the place may well be known empty."""


def tags_to_ask_about(listed: Listed) -> set[str]:
    """The cells of the tag column that may be codes of ours."""
    return {normalise(row.tag) for row in listed.rows if row.tag and is_code(row.tag)}


def plan(listed: Listed, register: Register) -> ImportPlan:
    return _Planner(listed, register).plan()


def plan_good_rows(listed: Listed, register: Register) -> tuple[ImportPlan, list[BadRow]]:
    """The plan of the rows that may go in, and what is wrong with the others. A row that rests on a bad one is bad."""
    left: list[BadRow] = []
    while True:
        made = plan(listed, replace(register, loose=register.loose.copy()))
        if not made.bad:
            return made, left
        left += made.bad
        bad = {one.row for one in made.bad}
        rows, loose = ([row for row in some if row.number not in bad] for some in (listed.rows, listed.loose))
        listed = replace(listed, rows=rows, loose=loose, bad=[])


class _Planner:
    def __init__(self, listed: Listed, register: Register):
        self.listed, self.register = listed, register
        self.made = ImportPlan(bad=list(listed.bad), left_alone=listed.left_alone, other_sheets=listed.other_sheets)
        self.by_key: dict[PlaceKey, ImportStep] = {}
        self.tags: dict[str, int] = {}  # as compared → the row that has it

    def plan(self) -> ImportPlan:
        for row in self.listed.rows:
            self._place(row)
        for row in self.listed.loose:
            self._loose(row)
        BuiltUp(self.by_key, self.register, self.made).settle()
        self._keep_what_adds()
        self.made.bad.sort(key=lambda bad: bad.row)
        self.made.notes.sort(key=lambda note: note.row)
        return self.made

    def _loose(self, row: ListRow) -> None:
        """One that lies there already under this name, or bears this number, is not added again."""
        self._tag_once(row)
        lies = (fold(piece_name(row)), path_key(row.location))
        borne = row.tag and fold(row.tag) in self.register.works_numbers
        if row.bad:
            return
        if borne or self.register.loose[lies] > 0:
            self.register.loose[lies] -= 1
            self.made.unchanged += 1
            return
        step = ImportStep(row=row, key=((), "", "", "", ""), known=None, adds_piece=True, quantity=row.quantity)
        self._tag(step)
        self._location(step)
        self._origin(row)
        self.made.loose.append(step)

    def _bad(self, row: ListRow, column: str, sentence: str, cure: str) -> None:
        self.made.bad.append(BadRow(row.number, column, sentence, cure))

    def _note(self, row: ListRow, sentence: str) -> None:
        self.made.notes.append(Note(row.number, sentence))

    def _differs(self, row: ListRow, column: str, listed: object, registered: object) -> None:
        both = [_in_words(value) for value in (listed, registered)]
        self.made.differences.append(Difference(row.number, row.words, column, *both))

    def _place(self, row: ListRow) -> None:
        key = row.key
        self._tag_once(row)
        if first := self.by_key.get(key):
            self._bad(
                row,
                "position",
                f"it is the same place as row {first.row.number} ({row.words}).",
                "Keep one row for each place: tell them apart by side, axle or end, or put a whole lot in one row.",
            )
            return
        known = self.register.places.get(key)
        step = self.by_key[key] = ImportStep(row=row, key=key, known=known)
        if row.bad:
            return
        if known and known.retired:
            self._differs(row, "position", "that it is there", "that it was taken away")
            return
        if known:
            self._compare_place(row, known)
        if row.has_piece:
            self._piece(step)
        elif row.state == EMPTY:
            self._empty(step)

    def _compare_place(self, row: ListRow, known: KnownPlace) -> None:
        for column in ("quantity", "safety_critical", "crack_check"):
            if column in self.listed.columns and getattr(row, column) != getattr(known, column):
                self._differs(row, column, getattr(row, column), getattr(known, column))
        for column in ("drawing", "material"):
            if getattr(row, column) and fold(getattr(row, column)) != fold(getattr(known, column)):
                self._differs(row, column, getattr(row, column), getattr(known, column))
        notes = "" if row.has_piece else place_notes(row)
        if notes and fold(notes) != fold(known.notes):
            self._differs(row, "notes", notes, known.notes)

    # --- pieces and empty places ---

    def _piece(self, step: ImportStep) -> None:
        row, known = step.row, step.known
        there = self.register.pieces.get(known.id, []) if known else []
        if there:
            self._compare_piece(row, _the_one(row, there))
        elif known and known.known_empty and row.state not in BESIDE_AN_EMPTY_PLACE:
            self._differs(row, "state", row.state, "that the place is known to be empty")
        elif known and row.state in LIVE and self._piece_quantity(row, known) > known.quantity:
            self._bad(
                row,
                "quantity",
                f"{row.quantity} pieces do not go into a place for {known.quantity}.",
                f"Write at most {known.quantity}, or change the place's quantity first.",
            )
        else:
            step.adds_piece = True
            step.quantity = self._piece_quantity(row, known)
            self._tag(step)
            self._location(step)
            self._origin(row)

    def _piece_quantity(self, row: ListRow, known: KnownPlace | None) -> int:
        """A list without a quantity column speaks of all that belong in the place."""
        return known.quantity if known and "quantity" not in self.listed.columns else row.quantity

    def _empty(self, step: ImportStep) -> None:
        row, known = step.row, step.known
        there = self.register.pieces.get(known.id, []) if known else []
        if known and known.known_empty:
            return
        if there:
            self._differs(row, "state", EMPTY, f"a piece that is {there[0].state}")
        else:
            step.adds_empty = True

    def _compare_piece(self, row: ListRow, piece: KnownPiece) -> None:
        pairs = [
            ("state", row.state, piece.state),
            ("description", piece_name(row) if row.description else "", piece.name),
            ("marks", row.marks, piece.marks),
            ("origin", row.origin or row.origin_evidence, piece.origin if row.origin else piece.origin_evidence),
            ("notes", piece_notes(row), piece.notes),
        ]
        if row.tag and not _bears(piece, row.tag):
            pairs.append(("tag", row.tag, piece.works_number or grouped(piece.code)))
        if row.location and row.state not in FITTED:
            pairs.append(("location", " / ".join(row.location), " / ".join(piece.location)))
        for column, listed, registered in pairs:
            if listed and fold(listed) != fold(registered):
                self._differs(row, column, listed, registered)

    def _origin(self, row: ListRow) -> None:
        if row.origin_evidence:
            origin = short(row.origin_evidence)
            self._note(row, f"the origin “{origin}” is none of our words; it is kept as evidence, the origin unknown.")

    # --- tags ---

    def _tag_once(self, row: ListRow) -> None:
        if not row.tag:
            return
        key = normalise(row.tag) if is_code(row.tag) else fold(row.tag)
        first = self.tags.setdefault(key, row.number)
        if first != row.number:
            self._bad(
                row,
                "tag",
                f"“{short(row.tag)}” is the tag of row {first} too.",
                "Two pieces cannot have one tag: look which of them carries it, and correct the other.",
            )

    def _tag(self, step: ImportStep) -> None:
        row = step.row
        if not row.tag:
            return
        code = normalise(row.tag) if is_code(row.tag) else ""
        tied = self.register.codes.get(code) if code else None
        if tied == "":
            step.code = code
        elif tied:
            cure = "Take an unused tag, or leave it blank to have one issued."
            self._bad(row, "tag", f"tag {grouped(code)} is tied to {tied} already.", cure)
        elif bearer := self.register.works_numbers.get(fold(row.tag)):
            cure = "Two pieces cannot have one tag: look which of them carries it, and correct the other."
            self._bad(row, "tag", f"“{short(row.tag)}” is the tag of {bearer} in the register already.", cure)
        elif code:
            self._note(row, f"tag {row.tag} was never printed here, so it is kept as the works' own number.")

    # --- locations ---

    def _location(self, step: ImportStep) -> None:
        row = step.row
        if not row.location:
            return
        if row.state in FITTED:
            known = self.register.locations.get(path_key(row.location))
            if not (known and known.on_locomotive):
                where = " / ".join(row.location)
                self._note(row, f"it is {row.state}, so it lies on the locomotive; the location “{where}” is left out.")
            return
        key = step.location = path_key(row.location)
        for end in range(1, len(key) + 1):
            known = self.register.locations.get(key[:end])
            if known and known.retired:
                name = " / ".join(row.location[:end])
                return self._bad(row, "location", f"“{name}” is no longer used.", "Write where the piece lies now.")
            if known and known.on_locomotive and row.state not in MAY_LIE_ON_THE_LOCOMOTIVE:
                cure = "Write refitted if it is back in its place, or else where it lies."
                return self._bad(row, "location", f"a piece that is {row.state} does not lie on the locomotive.", cure)
            if not known:
                self.made.locations.setdefault(key[:end], row.location[:end])

    # --- the rest ---

    def _keep_what_adds(self) -> None:
        for step in self.by_key.values():
            if not step.adds:
                self.made.unchanged += 1
                continue
            self.made.steps.append(step)
            path = step.row.path
            key = path_key(path)
            for end in range(1, len(key) + 1):
                if key[:end] not in self.register.subassemblies:
                    self.made.subassemblies.setdefault(key[:end], path[:end])


def _the_one(row: ListRow, there: list[KnownPiece]) -> KnownPiece:
    """The piece of the register that a row most likely means."""
    return max(there, key=lambda p: (bool(row.tag) and _bears(p, row.tag), p.state == row.state, p.state in LIVE, p.id))


def _bears(piece: KnownPiece, tag: str) -> bool:
    return fold(tag) == fold(piece.works_number) or (is_code(tag) and normalise(tag) == piece.code)


def _in_words(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = short(str(value))
    if not text:
        return "nothing"
    return text if isinstance(value, (int, State)) or text.startswith(("that ", "a piece ")) else f"“{text}”"
