"""How a piece is held in its place: how tightened, how locked, with which shims, and what was measured there as built,
as its refitting and later events say. A piece that was refitted is locked once somebody says how; what was left alone
in its place was never undone."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass
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
class BuiltFigure:
    """A fit or a size as measured in place, judged when it was written down."""

    key: str  # of which fit or size
    name: str
    typed: str
    verdict: str
    outside: bool = False
    final: bool = False  # nobody lets it stand

    @property
    def words(self) -> str:
        return f"{self.name}: {self.typed}: {self.verdict[:1].lower()}{self.verdict[1:]}"

    @property
    def data(self) -> dict[str, Any]:
        return asdict(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltSize:
    """What is to be measured in place: how it is called, what is allowed, and how a figure is judged."""

    key: str
    name: str
    allowed: str
    judge: Callable[[str], BuiltFigure]  # a ValueError says what to write instead


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastening:
    tightened: str = ""
    locked: str = ""
    shims: str = ""
    built: str = ""  # what no limits are set for
    measured: tuple[BuiltFigure, ...] = ()
    allowed: frozenset[str] = frozenset()  # the figures, in words, that the engineer let stand

    @property
    def outside(self) -> list[BuiltFigure]:
        """Those that keep it open."""
        return [one for one in self.measured if one.outside and one.words not in self.allowed]

    def lets_stand(self, figure: BuiltFigure) -> bool:
        """The same figure with the same verdict as the engineer let stand; another is judged anew."""
        return figure in self.measured and figure.words in self.allowed and not figure.final

    @property
    def built_words(self) -> str:
        told = [
            one.words + (", let stand by the engineer" if one.words in self.allowed else "") for one in self.measured
        ]
        return "; ".join([*told, f"{self.built} (no limits set, not judged)"] if self.built else told)

    def in_words(self) -> str:
        noted = [
            ("tightened", self.tightened),
            ("locked", self.locked),
            ("shims", self.shims),
            ("as built", self.built_words),
        ]
        return "; ".join(f"{name}: {words}" for name, words in noted if words)


IN_WORDS = ("tightened", "locked", "shims", "built")


def fastening(noted: Iterable[tuple[str, Mapping[str, Any]]]) -> Fastening:
    """From what its events hold, (word, data), oldest first."""
    found = Fastening()
    for word, data in noted:
        kept = Fastening() if word == "refit" else found
        figures = {one.key: one for one in (*kept.measured, *(BuiltFigure(**one) for one in data.get("measured", ())))}
        passed_over = " ".join(data.get("passed_over", ()))
        passed = [one.words for one in figures.values() if one.words in passed_over]
        words_now = {name: data.get(name) or getattr(kept, name) for name in IN_WORDS}
        found = Fastening(**words_now, measured=tuple(figures.values()), allowed=kept.allowed.union(passed))
    return found


def torque_has_a_unit(context: ActionContext) -> Refusal | None:
    """“120 lbf ft” or “a sixth of a turn past hand tight”; a bare number could be either of two units."""
    words = str(context.input.value("tightened") or "").strip()
    if not words or any(letter.isalpha() for letter in words):
        return None
    cure = "Write the torque with its unit, such as 120 lbf ft or 160 N m, or say in words how."
    return Refusal("tightened", f"Tightened: “{words[:40]}” has no unit.", cure)


NUMBER = r"[\d¼-¾⅐-⅞][\d.,/\u2044¼-¾⅐-⅞]*"
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


def built_is_within(context: ActionContext) -> Refusal | None:
    """Nothing is locked with a figure outside: the engineer may let it stand, but never beyond scrapping."""
    if not str(context.input.value("locked") or "").strip():
        return None  # written down as found; it stays open
    outside = [BuiltFigure(**one) for one in context.input.value("measured") or () if one["outside"]]
    if not outside:
        return None
    told = f"{'; '.join(one.words for one in outside)}."
    if any(one.final for one in outside) or (context.place and context.place.pressure_part):
        return Refusal(outside[0].key, told, "Take it off and put it right: nobody lets it stand.")
    cure = "Take it off and put it right, or the responsible engineer locks it and says why it may stand."
    return Refusal(outside[0].key, told, cure, True)
