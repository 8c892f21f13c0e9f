"""How a piece is held in its place: how tightened, how locked, and with which shims, as its refitting and later events
say. A piece that was refitted is locked once somebody says how; what was left alone in its place was never undone."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from core.domain.refusals import Refusal

from .rows import ActionContext

FASTENS = ("refit", "lock")
"""The words of the events that say so; a refitting begins anew."""

DEVICES = (
    "split pin", "split cotter", "cotter and set screw", "lock nut", "castle nut and split pin", "tab washer",
    "spring washer", "locking wire", "locking plate", "taper pin", "riveted over", "locking compound", "does not apply",
)  # fmt: skip
"""What is offered. Common practice, no source: the drawing and the competent person say which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    tightened: str = ""
    locked: str = ""
    shims: str = ""

    def in_words(self) -> str:
        noted = (("tightened", self.tightened), ("locked", self.locked), ("shims", self.shims))
        return "; ".join(f"{name}: {words}" for name, words in noted if words)


def fastening(noted: Iterable[tuple[str, Mapping[str, Any]]]) -> Fastening:
    """From what its events hold, (word, data), oldest first."""
    found = Fastening()
    for word, data in noted:
        kept = Fastening() if word == "refit" else found
        found = Fastening(**{name: data.get(name) or getattr(kept, name) for name in Fastening.__dataclass_fields__})
    return found


def torque_has_a_unit(context: ActionContext) -> Refusal | None:
    """“120 lbf ft” or “a sixth of a turn past hand tight”; a bare number could be either of two units."""
    words = str(context.input.value("tightened") or "").strip()
    if not words or any(letter.isalpha() for letter in words):
        return None
    cure = "Write the torque with its unit, such as 120 lbf ft or 160 N m, or say in words how."
    return Refusal("tightened", f"Tightened: “{words[:40]}” has no unit.", cure)
