"""Which built-up piece a row of a list belongs in, and which of them count as broken down.

A built-up piece counts as broken down as soon as a row has a piece of it apart from it (any state but *in place*), or
knows one of its places to be empty while something of the piece itself is there. A row *in place* is inside its
built-up piece, not dealt with: it sleeps there until the piece is broken down.
"""

from collections import defaultdict
from collections.abc import Iterator

from .import_rows import Difference, ImportPlan, ImportStep, KnownPlace, Note, Register
from .importing import ListRow, PathKey, PlaceKey
from .register_cells import EMPTY, BadRow, fold, short
from .words import LIVE, State


class BuiltUp:
    """Looks at all rows of a list together, after each was set against the register."""

    def __init__(self, by_key: dict[PlaceKey, ImportStep], register: Register, made: ImportPlan):
        self.by_key, self.register, self.made = by_key, register, made
        self.names = self._names()
        self.keys = {place.id: key for key, place in register.places.items()}

    def settle(self) -> None:
        for step in self.by_key.values():
            self._part_of(step)
        for step in self.by_key.values():
            self._no_loop(step)
            self._opens(step)
        outer = {step.outer for step in self.by_key.values() if step.outer} | self.made.opened
        places = self.register.places
        self.made.known_ids = {key: places[key].id for key in outer if key in places}

    def _bad(self, row: ListRow, sentence: str, cure: str) -> None:
        self.made.bad.append(BadRow(row.number, "part_of", sentence, cure))

    def _note(self, row: ListRow, sentence: str) -> None:
        self.made.notes.append(Note(row.number, sentence))

    def _names(self) -> dict[tuple[PathKey, str], list[PlaceKey]]:
        """The places of a subassembly by name, those of the list and those of the register."""
        names: dict[tuple[PathKey, str], dict[PlaceKey, None]] = defaultdict(dict)
        for key, step in self.by_key.items():
            if not (step.known and step.known.retired):
                names[key[0], key[1]][key] = None
        for key, known in self.register.places.items():
            if not known.retired:
                names[key[0], key[1]][key] = None
        return {name: list(keys) for name, keys in names.items()}

    def _part_of(self, step: ImportStep) -> None:
        row, known = step.row, step.known
        if known is None and row.part_of:
            step.outer = self._outer(row)
        elif known:
            step.outer = self._known_outer(known)
            if row.part_of and not known.retired:
                outer = self._outer(row)
                if outer and outer != step.outer:
                    words, there = f"“{self._words(outer)}”", self._words(step.outer)
                    there = f"“{there}”" if there else "nothing"
                    self.made.differences.append(Difference(row.number, row.words, "part_of", words, there))

    def _known_outer(self, known: KnownPlace) -> PlaceKey | None:
        if known.part_of is None:
            return None
        return self.keys.get(known.part_of)

    def _outer(self, row: ListRow) -> PlaceKey | None:
        named = self.names.get((row.path_key, fold(row.part_of)), [])
        named = [key for key in named if key != row.key] or self._by_full_words(row)
        if not named:
            self._bad(
                row,
                f"“{short(row.part_of)}” is no other place of {' / '.join(row.path)}.",
                "Write the name of the built-up piece as its own row has it, or add a row for it.",
            )
            return None
        fitting = [key for key in named if _holds(key, row.key)]
        closest = max((_closeness(key) for key in fitting), default=0)
        fitting = [key for key in fitting if _closeness(key) == closest] or named
        if len(fitting) == 1:
            return fitting[0]
        examples = " or ".join(f"“{self._words(key)}”" for key in fitting[:2])
        self._bad(
            row,
            f"“{short(row.part_of)}” may be any of {len(fitting)} places.",
            f"Give this row the same side, axle and end as the one meant, or write it in full, such as {examples}.",
        )
        return None

    def _by_full_words(self, row: ListRow) -> list[PlaceKey]:
        """The places of the subassembly whose name with side, axle and end is what the cell says."""
        outer = fold(row.part_of)
        name = fold(row.part_of.split(",")[0])
        named = self.names.get((row.path_key, name), [])
        return [key for key in named if key != row.key and fold(", ".join(filter(None, key[1:]))) == outer]

    def _words(self, key: PlaceKey | None) -> str:
        if key is None:
            return ""
        if step := self.by_key.get(key):
            return step.row.words
        return self.register.places[key].words

    def _around(self, step: ImportStep) -> Iterator[PlaceKey]:
        """The built-up pieces around a place, from the nearest out; stops where it comes round again."""
        seen, outer = {step.key}, step.outer
        while outer is not None and outer not in seen:
            yield outer
            seen.add(outer)
            around = self.by_key.get(outer)
            known = self.register.places.get(outer)
            outer = around.outer if around else self._known_outer(known) if known else None

    def _no_loop(self, step: ImportStep) -> None:
        around = list(self._around(step))
        last = self.by_key.get(around[-1]) if around else None
        if last and last.outer == step.key:
            self._bad(
                step.row,
                f"{step.row.words} would be part of itself, by way of {self._words(step.outer)}.",
                "Leave part_of blank in the row of the largest piece.",
            )

    def _opens(self, step: ImportStep) -> None:
        row = step.row
        if step.outer is None or not (step.adds_piece or step.adds_empty) or row.state is State.IN_PLACE:
            return
        gone = row.state in (EMPTY, State.WITHDRAWN)
        if gone and self._is_gone(step.outer):
            return
        for outer in self._around(step):
            self._open(row, outer)

    def _is_gone(self, key: PlaceKey) -> bool:
        """Nothing of the built-up piece is left, so that an empty place in it says nothing more."""
        if step := self.by_key.get(key):
            return step.row.state in (EMPTY, State.WITHDRAWN)
        known = self.register.places[key]
        return known.known_empty

    def _open(self, row: ListRow, key: PlaceKey) -> None:
        if key in self.made.opened:
            return
        self.made.opened.add(key)
        around, known = self.by_key.get(key), self.register.places.get(key)
        there = self.register.pieces.get(known.id, []) if known else []
        if any(piece.state in LIVE and not piece.broken_down for piece in there):
            self._note(row, f"{self._words(key)} counts as broken down from now on, since a piece of it is apart.")
        elif around and around.adds_piece and around.row.state is State.IN_PLACE:
            self._note(
                around.row,
                f"it is in place, yet row {row.number} has a piece of it apart; it counts as broken down as it stands.",
            )


def _holds(outer: PlaceKey, inner: PlaceKey) -> bool:
    """No word of the outer place contradicts the inner one's side, axle and end."""
    return all(not there or there == here for there, here in zip(outer[2:], inner[2:], strict=True))


def _closeness(key: PlaceKey) -> int:
    return sum(map(bool, key[2:]))
