"""What tags are meant by codes that were read or typed one after another: pieces, patterns, crates, or why none."""

from dataclasses import dataclass, field

from core.domain.refusals import Refusal

from ..domain.near_codes import near_codes
from ..domain.tagcodes import TagError, check, grouped, is_code
from ..domain.written_codes import codes_written
from ..models import Component, Location, Pattern, Tag

MOST = 100


@dataclass
class Named:
    """What the codes hang on, each once, and in words what is wrong with the other codes."""

    pieces: list[Component] = field(default_factory=list)
    patterns: list[Pattern] = field(default_factory=list)
    crates: list[Location] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)
    meant: list[Tag] = field(default_factory=list)  # what a mistyped one may have been


def named(texts, *, typed: bool = False) -> Named:
    """Codes as they were read, or, typed, any number of them in a line."""
    found = Named()
    words = [word for text in texts for word in _words(text)] if typed else list(texts)
    if typed and not words:
        found.refusals.append(Refusal("code", "Tag: nothing was typed.", "Type the eight characters that stand on it."))
    codes = []
    for word in words[:MOST]:
        try:
            codes.append(check(word))
        except TagError as trouble:
            found.refusals.append(Refusal("code", f"Tag: {trouble}", ""))
            found.meant += Tag.objects.tied_among(near_codes(word))
    tags = {tag.code: tag for tag in Tag.objects.among(codes)}
    pieces = Component.objects.named_by_tags([tag.component_id for tag in tags.values() if tag.component_id])
    for code in dict.fromkeys(codes):
        _sort(code, tags.get(code), pieces, found)
    return found


def _words(text: str) -> list[str]:
    """One code however it is broken up, or several."""
    return [text] if is_code(text) else codes_written(text[: 60 * MOST])


def _sort(code: str, tag: Tag | None, pieces: dict, found: Named) -> None:
    if tag is None:
        sentence = f"No tag {grouped(code)} was ever printed here."
        found.refusals.append(Refusal("code", sentence, "Look at the tag again; it may belong to another register."))
    elif tag.component_id:
        if (piece := pieces[tag.component_id]) not in found.pieces:
            found.pieces.append(piece)
    elif tag.location:
        found.crates.append(tag.location)
    elif tag.pattern:
        found.patterns.append(tag.pattern)
    else:
        sentence = f"Tag {grouped(code)} is not tied to anything yet."
        found.refusals.append(Refusal("code", sentence, "Open it and tie it to its piece first."))
