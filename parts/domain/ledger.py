"""How original a locomotive is, and where the old pieces went. Pure: plain rows in, exact sums out.

Every tagged piece is counted by its quantity, in one column only; so the columns of all lines add up to the register.
By mass likewise, as far as somebody wrote down what a piece weighs; of how many nobody did is told beside it.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Protocol, TypeVar

from .words import LIVE, Destination, Origin, State


class Share(StrEnum):
    """The columns of the ledger."""

    ORIGINAL = "original"
    REPAIRED = "original, repaired"
    EARLIER = "from an earlier repair"
    ANOTHER = "another locomotive"
    NEW = "new"
    WRONG = "wrong"
    UNKNOWN = "unknown"
    MAKING = "in the making"
    BUILT_IN = "built into another piece"
    GIVEN_UP = "withdrawn"


THERE = tuple(Share)[:7]
"""Of what is there now; the last three are not counted among it."""

BY_ORIGIN = {
    Origin.ORIGINAL: Share.ORIGINAL,
    Origin.EARLIER_REPAIR: Share.EARLIER,
    Origin.ANOTHER_LOCOMOTIVE: Share.ANOTHER,
    Origin.NEW: Share.NEW,
    Origin.WRONG: Share.WRONG,
    Origin.UNKNOWN: Share.UNKNOWN,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """One finished repair: what new material it let in, and its mass where somebody wrote it down."""

    let_in: str = ""
    kg: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece or lot, withdrawn ones too."""

    id: int
    name: str
    code: str = ""
    quantity: int = 1
    each_kg: Decimal | None = None  # the mass of one
    state: State
    origin: Origin
    subassembly: int | None = None
    where_it_was: str = ""
    mended: tuple[Mended, ...] = ()
    destination: str = ""
    reason: str = ""
    replaces: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sub:
    id: int | None
    name: str
    depth: int = 0


@dataclass(frozen=True, kw_only=True)
class SubassemblyShares:
    """The own pieces of one subassembly, or of all."""

    sub: Sub
    pieces: dict[Share, int] = field(default_factory=lambda: dict.fromkeys(Share, 0))
    kg: dict[Share, Decimal] = field(default_factory=lambda: dict.fromkeys(Share, Decimal(0)))
    no_mass: dict[Share, int] = field(default_factory=lambda: dict.fromkeys(Share, 0))  # pieces of no known mass
    let_in_kg: Decimal = Decimal(0)
    not_weighed: int = 0  # repairs that let material in of which nobody wrote down the mass

    @property
    def there(self) -> int:
        return sum(self.pieces[share] for share in THERE)

    @property
    def no_mass_there(self) -> int:
        return sum(self.no_mass[share] for share in THERE)

    @property
    def any_mass(self) -> bool:
        return any(self.kg.values())


@dataclass(frozen=True, kw_only=True)
class Gone:
    """A piece that was given up: where it went, why, and what took its place."""

    piece: Piece
    successors: tuple[Piece, ...]


@dataclass(frozen=True, kw_only=True)
class Ledger:
    lines: list[SubassemblyShares]
    total: SubassemblyShares
    gone: list[Gone]


NOWHERE = Sub(id=None, name="For no place yet")


def share_of(piece: Piece) -> Share:
    """The one column that a piece is counted in.

    >>> share_of(Piece(id=1, name="cab", state=State.STRIPPED, origin=Origin.ORIGINAL, mended=(Mended(),))).value
    'original, repaired'
    """
    if piece.state is State.WITHDRAWN:
        return Share.BUILT_IN if piece.destination == Destination.BUILT_IN else Share.GIVEN_UP
    if piece.state not in LIVE:
        return Share.MAKING
    share = BY_ORIGIN[piece.origin]
    return Share.REPAIRED if share is Share.ORIGINAL and piece.mended else share


def ledger(subs: Sequence[Sub], pieces: Iterable[Piece]) -> Ledger:
    """Lines in the order of the subassemblies; one without any piece is left out unless something below it has some."""
    pieces = list(pieces)
    known = {sub.id for sub in subs}
    by_sub: dict[int | None, list[Piece]] = {}
    for piece in pieces:
        by_sub.setdefault(piece.subassembly if piece.subassembly in known else None, []).append(piece)
    listed = worth_showing([*subs, NOWHERE], lambda sub: sub.id in by_sub)
    return Ledger(
        lines=[line(sub, by_sub.get(sub.id, [])) for sub in listed],
        total=line(Sub(id=None, name="In all"), pieces),
        gone=gone(pieces),
    )


class Nested(Protocol):
    """A line of a tree, and how deep it lies in it."""

    @property
    def depth(self) -> int: ...


Deep = TypeVar("Deep", bound=Nested)


def worth_showing(listed: Sequence[Deep], has_any: Callable[[Deep], object]) -> list[Deep]:
    """Of a tree in its order, each with its `depth`: what has something, and whatever that is part of.

    >>> tree = [Sub(id=1, name="boiler"), Sub(id=2, name="shell", depth=1), Sub(id=3, name="cab")]
    >>> [sub.name for sub in worth_showing(tree, lambda sub: sub.id == 2)]
    ['boiler', 'shell']
    """
    kept: list[Deep] = []
    depth = 0  # of the last one kept: whatever comes before it and is less deep, it is part of
    for one in reversed(listed):
        if has_any(one) or one.depth < depth:
            kept.append(one)
            depth = one.depth
    return kept[::-1]


def line(sub: Sub, pieces: Iterable[Piece]) -> SubassemblyShares:
    """What is let into a withdrawn piece went with it, and is not counted as being there."""
    counts, kg, no_mass = dict.fromkeys(Share, 0), dict.fromkeys(Share, Decimal(0)), dict.fromkeys(Share, 0)
    let_in_kg, not_weighed = Decimal(0), 0
    for piece in pieces:
        share = share_of(piece)
        counts[share] += piece.quantity
        if piece.each_kg is None:
            no_mass[share] += piece.quantity
        else:
            kg[share] += piece.quantity * piece.each_kg
        if share in THERE:
            let_in_kg += sum((done.kg for done in piece.mended if done.kg is not None), Decimal(0))
            not_weighed += sum(bool(done.let_in) and done.kg is None for done in piece.mended)
    return SubassemblyShares(
        sub=sub, pieces=counts, kg=kg, no_mass=no_mass, let_in_kg=let_in_kg, not_weighed=not_weighed
    )


def gone(pieces: Iterable[Piece]) -> list[Gone]:
    """Every piece given up, the originals first; a spoilt successor is told only where no other is there."""
    pieces = list(pieces)
    after: dict[int, list[Piece]] = {}
    for piece in pieces:
        if piece.replaces is not None:
            after.setdefault(piece.replaces, []).append(piece)
    given_up = [piece for piece in pieces if share_of(piece) is Share.GIVEN_UP]
    order = {origin: place for place, origin in enumerate(Origin)}
    given_up.sort(key=lambda piece: (order[piece.origin], piece.name, piece.id))
    return [Gone(piece=piece, successors=_best(after.get(piece.id, []))) for piece in given_up]


def _best(successors: list[Piece]) -> tuple[Piece, ...]:
    kept = [piece for piece in successors if share_of(piece) is not Share.GIVEN_UP]
    return tuple(kept or successors)
