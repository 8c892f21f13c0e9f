"""Events in words, as the history of a thing tells them. What each word says stands with it in the catalogue."""

from collections.abc import Iterator, Mapping
from typing import Any

from core.domain.catalogue import CATALOGUE, EventType, Logged

from .fastening import fastening
from .plain import capital, changed


def tell(
    word: str, data: Mapping[str, Any], *, remark: str = "", before: str = "", after: str = "", went: str = ""
) -> str:
    """One event as a sentence or two. `went` says from where to where, if the piece was moved by it."""
    kind = CATALOGUE.event(word)
    lead = _lead(kind, Logged(data=data, before=before, after=after, went=went))
    parts = [lead, *_details(data)]
    if remark and kind.tells_remark:
        parts.append(_sentence(remark))
    if went and went not in lead:
        parts.append(_sentence(f"it went {went}"))
    return " ".join(parts)


def is_signed(word: str, checked: bool = False) -> bool:
    """Whether a name stands behind it as a signature: its own, or those of fitter and checker."""
    return checked or CATALOGUE.event(word).signed


def _lead(kind: EventType, event: Logged) -> str:
    return kind.tell(event) if kind.tell else f"{kind.past or capital(kind.word)}."


def _details(data: Mapping[str, Any]) -> Iterator[str]:
    if isinstance(data.get("changed"), dict) and (fields := changed(data["changed"])):
        yield _sentence(fields)
    if data.get("protection"):
        yield _sentence(f"protected: {data['protection']}")
    if held := fastening([("", data)]).in_words():
        yield _sentence(held)
    if data.get("procedure") or data.get("welder"):
        yield f"Weld procedure {data.get('procedure') or 'not entered'}, welder {data.get('welder') or 'not entered'}."
    if data.get("override"):
        passed = " ".join(data.get("passed_over", ()))
        yield f"Passed over, for this reason: {_sentence(data['override'])} {passed}".strip()


def _sentence(text: str) -> str:
    text = capital(text.strip())
    return text if text[-1:] in ".!?" else f"{text}."
