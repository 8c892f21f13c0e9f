"""The list of what the competent person asked for before a return to service, and what keeps it from being signed.
Pure. The list grants nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from core.domain.refusals import Refusal
from parts.domain.plain import capital, day, several

GRANTS_NOTHING = (
    "Cotter records this list and grants nothing. "
    "The return to service is for the competent person and the local code to decide."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFor:
    """One item as the list shows it; with no tick that stands, `by_what`, `by` and `on` are blank."""

    number: int
    words: str
    asked_by: str
    by_what: str = ""
    by: str = ""
    on: str = ""  # ISO date

    @property
    def ticked(self) -> str:
        return f"{self.by}, {day(date.fromisoformat(self.on))}" if self.by else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowed:
    """A concession that stands on the locomotive."""

    what: str
    piece: str = ""
    until: str = ""  # ISO date; blank: no day is set

    @property
    def day(self) -> str:
        return day(date.fromisoformat(self.until)) if self.until else "no day is set"


def against(items: Sequence[AskedFor], allowed: Sequence[Allowed], today: date) -> list[Refusal]:
    if not items:
        return [Refusal("items", "Nothing is on the list.", "Enter what the competent person asked for.")]
    found = []
    if open_ones := [one.words for one in items if not one.by]:
        are = several(len(open_ones), "item is", "items are")
        found.append(Refusal("open", f"{capital(are)} not ticked.", f"Show by a record or a paper: {open_ones[0]}."))
    found += [
        Refusal("concession", f"A concession ended on {one.day}: {one.what}", "Look at it again first.")
        for one in allowed
        if one.until and date.fromisoformat(one.until) < today
    ]
    return found


def content_of(items: Sequence[AskedFor], allowed: Sequence[Allowed]) -> dict[str, Any]:
    """As it is signed and kept."""
    return {"items": [asdict(one) for one in items], "concessions": [asdict(one) for one in allowed]}


def read(content: Mapping[str, Any]) -> tuple[list[AskedFor], list[Allowed]]:
    """The other way."""
    return [AskedFor(**one) for one in content["items"]], [Allowed(**one) for one in content["concessions"]]
