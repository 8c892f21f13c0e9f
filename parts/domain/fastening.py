"""How a piece is held in its place: how tightened, how locked, with which shims, and what was measured there as built,
as its refitting and later events say. A piece that was refitted is locked once somebody says how; what was left alone
in its place was never undone."""

import re
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
    built: str = ""

    def in_words(self) -> str:
        noted = [
            ("tightened", self.tightened),
            ("locked", self.locked),
            ("shims", self.shims),
            ("as built", self.built),
        ]
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


NUMBER = r"\d[\d.,/]*"
FIGURE = re.compile(  # 5 3/8, 3 to 5, 0.12 ± 0.02; axle 2 is no measure
    rf"(?<!no\. )(?<!no )(?<!axle )(?<![\d.,/]){NUMBER}(?:\s*(?:to|±|–|-)?\s*{NUMBER})*", re.IGNORECASE
)
UNIT = re.compile(r"\s*(?:[mc]?m\b|millimet|ft\b|feet|foot|in\b|inch|thou|μm|µm|[\"″'′°]|deg)", re.IGNORECASE)


def built_has_a_unit(context: ActionContext) -> Refusal | None:
    """“End float 1/32 in, clearance at the crown 0.15 mm”: each figure bears its unit."""
    words = str(context.input.value("built") or "")
    bare = next((found for found in FIGURE.finditer(words) if not UNIT.match(words, found.end())), None)
    if bare is None:
        return None
    cure = "Write each figure with its unit, such as end float 1/32 in."
    return Refusal("built", f"Measured as built: “{bare[0].strip()}” has no unit.", cure)
