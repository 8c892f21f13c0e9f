"""Small helpers for sentences that people read: dates, lists, counts."""

import re
from collections.abc import Iterable, Mapping
from datetime import date


def day(when: date) -> str:
    """A date that reads the same on both sides of the Atlantic: "29 Nov 2026"."""
    return f"{when.day} {when:%b} {when.year}"


def on_day(when: date | None) -> str:
    return f" of {day(when)}" if when else ""


def changed(fields: Mapping[str, object]) -> str:
    """Fields of an event, each from what to what: "drawing from 12 to 14, notes written"."""
    clauses = []
    for name, values in fields.items():
        if isinstance(values, (list, tuple)) and len(values) == 2:
            told = "changed" if name in BY_NUMBER else from_to(*values)
            clauses.append(f"{name.replace('_', ' ')} {told}")
    return listed(clauses)


BY_NUMBER = frozenset({"original_at", "location", "goes_with", "reference", "firm", "pattern", "positions"})
"""Fields of which an event keeps the numbers of rows, which tell nobody anything."""


def from_to(old: object, new: object) -> str:
    """ "from 12 to 14"; a value that was not there, or is not any more, is told as such."""
    before, after = _short(old), _short(new)
    if not before:
        return f"now {after}" if after else "cleared"
    return f"from {before} to {after}" if after else f"cleared (it was {before})"


def _short(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (list, tuple)):
        return listed(str(item) for item in value)
    text = " ".join(str("" if value is None else value).split())
    return f"{text[:77]}…" if len(text) > 80 else text


def listed(items: Iterable[str]) -> str:
    return ", ".join(items)


def several(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def by_number(text: str) -> list[tuple[int, str]]:
    """To sort by: crate 2 before crate 14, in any case of letters."""
    return [(int(bit), "") if bit.isdecimal() else (-1, bit.casefold()) for bit in re.split(r"(\d+)", text) if bit]


def slipped(times: int) -> str:
    """How often a later day was promised than before."""
    words = {0: "", 1: ", slipped once", 2: ", slipped twice"}
    return words.get(times, f", slipped {times} times")


def says_enough(text: str) -> bool:
    """A reason that somebody else can follow: "ok" and "all fine" are none. Three words: common practice, no source."""
    return len(re.findall(r"\w{2,}", text)) >= 3


def overdue(due: date | None, today: date) -> str:
    """Nothing on the day itself: a thing promised for today is not yet late."""
    if due is None or due >= today:
        return ""
    return f", {several((today - due).days, 'day')} overdue"


def mentions(text: str, phrases: Iterable[str], *, last: bool = False) -> bool:
    """Whether one of the phrases stands in it as whole words, in the singular or the plural, in any case of letters;
    with `last`, at its end or before a comma or a stroke: "coupling rod", but not "coupling rod bush"."""
    ending = r"(?=$|\s*[,/])" if last else r"\b"
    return any(re.search(rf"\b{re.escape(phrase)}s?{ending}", text, re.IGNORECASE) for phrase in phrases)
