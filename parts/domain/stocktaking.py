"""A stock-take in words: what becomes of each piece that should be in a place, or was seen there. Pure."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256
from typing import Any


class Outcome(StrEnum):
    SEEN = "seen"  # where the register says
    FOUND = "found again"  # nobody knew where it was, or it had been missed
    STRAY = "should not be here"  # the register says that it lies somewhere else
    MISSING = "missing"
    MEANWHILE = "moved meanwhile"  # put here or taken away by somebody while it was counted


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """One piece as the count found it."""

    here: bool  # it lies here by the register
    seen: bool
    lost: bool = False  # its place is not known, or it was missed before
    moved_since: bool = False  # moved by somebody after it was seen; one not seen, after the counting began


def outcome(piece: Counted) -> Outcome:
    """Exactly one for every piece that is or was expected, or was seen.

    >>> outcome(Counted(here=True, seen=False))
    <Outcome.MISSING: 'missing'>
    """
    if piece.here and piece.seen:
        return Outcome.FOUND if piece.lost else Outcome.SEEN
    if piece.moved_since:
        return Outcome.MEANWHILE
    if not piece.here and not piece.seen:
        raise ValueError("neither expected nor seen: it has no part in this count")
    if piece.here:
        return Outcome.MISSING
    return Outcome.FOUND if piece.lost else Outcome.STRAY


def missed_by(data: Mapping[str, Any]) -> str:
    """What was done as a piece was not found, by what the event holds.

    >>> missed_by({"kit": 7})
    'when a kit was collected'
    """
    return "when a kit was collected" if "kit" in data else "at the stock-take"


def mark_of(found: Iterable[tuple[int, Outcome]]) -> str:
    """A mark that changes when anything of the outcome does: the page that is confirmed carries it."""
    return sha256(repr(sorted((id, str(word)) for id, word in found)).encode()).hexdigest()[:16]
