"""What can be printed: a label of each kind as plain values, before anything is laid out."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

from parts.labels.fonts import PLAIN, missing


@dataclass(frozen=True, kw_only=True)
class Label:
    """`code` stands on it in clear; `address` is what a scan opens."""

    code: str
    address: str

    def unprintable(self) -> set[str]:
        """The letters in its texts that the fonts have no shape for."""
        found: set[str] = set()
        for field in fields(self):
            value = getattr(self, field.name)
            for text in [value] if isinstance(value, str) else value if isinstance(value, Sequence) else ():
                found |= missing(text, PLAIN)
        return found


@dataclass(frozen=True, kw_only=True)
class PartLabel(Label):
    """The tag of a piece. `side_line` says the side and which way it faces: RH LEADING ▲ FRONT."""

    title: str = ""
    lines: Sequence[str] = ()
    side_line: str = ""


@dataclass(frozen=True, kw_only=True)
class BagLabel(PartLabel):
    """What is in a bag of small parts, how many, and in `lines` where they came from."""

    count: int = 1


@dataclass(frozen=True, kw_only=True)
class CrateLabel(Label):
    """The label of a crate: what lies in it, and how many more things than are named. A list on several labels says
    in `part` which of them this is."""

    title: str
    contents: Sequence[str] = ()
    more: int = 0
    part: str = ""


@dataclass(frozen=True, kw_only=True)
class ShelfLabel(Label):
    """The name of a shelf or rack, to be read from across the aisle; `inside` is what it stands in."""

    title: str
    inside: str = ""


@dataclass(frozen=True, kw_only=True)
class CardLabel(Label):
    """A card that one person carries, and whose it is. Its code stands on it as it is given, in its own groups."""

    heading: str
    name: str
    lines: Sequence[str] = ()
