"""Tags: issued, tied, replaced. A thing may have had several; one is current, the others still lead to it."""

from collections.abc import Sequence
from typing import Any

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Person, bulk

from ..domain.tagcodes import TagError, check, new_code
from ..models import Component, Location, Pattern, Tag


def fresh_codes(count: int) -> list[str]:
    """Codes that no tag bears yet, in the order in which they were drawn: sorted, those of neighbours begin alike."""
    codes: dict[str, None] = {}
    while len(codes) < count:
        drawn = [new_code() for _ in range(count - len(codes))]
        taken = set(Tag.objects.filter(code__in=drawn).values_list("code", flat=True))
        codes |= dict.fromkeys(code for code in drawn if code not in taken)
    return list(codes)


def unused(count: int) -> list[Tag]:
    """A roll of tags tied to nothing yet, to be printed beforehand."""
    return Tag.objects.bulk_create([Tag(code=code) for code in fresh_codes(count)])


def issue(thing: Component | Location | Pattern, actor: Person) -> Tag:
    """A new code for a thing that has none."""
    return Tag.objects.create(code=fresh_codes(1)[0], current=True, tied_by=actor, **of_thing(thing))


def tie_or_issue(pieces: Sequence[tuple[int, str]], actor: Person) -> None:
    """New pieces, each with the code of the tag that was scanned for it; those without one have a code issued."""
    named = {code: piece for piece, code in pieces if code}
    tags = list(Tag.objects.select_for_update().filter(code__in=named)) if named else []
    for tag in tags:
        tag.component_id, tag.current, tag.tied_by = named[tag.code], True, actor
    if tags:
        Tag.objects.bulk_update(tags, ["component", "current", "tied_by"], batch_size=300)
    bare = [piece for piece, code in pieces if not code]
    fresh = zip(bulk.take_ids(Tag, len(bare)), _many_codes(len(bare)), bare, strict=True) if bare else ()
    common = {"current": True, "issued": timezone.now(), "tied_by_id": actor.pk}
    bulk.insert(Tag, [{"id": pk, "code": code, "component_id": piece, **common} for pk, code, piece in fresh])


def _many_codes(count: int) -> list[str]:
    """As many fresh codes, asked for in portions that every SQLite takes."""
    codes: dict[str, None] = {}
    while len(codes) < count:
        codes |= dict.fromkeys(fresh_codes(min(count - len(codes), 10_000)))
    return list(codes)


def free_tag(code: str) -> Tag:
    """The unused tag of this code, held against other writers; a code we never printed is refused."""
    try:
        tag = Tag.objects.select_for_update().get(code=check(code))
    except TagError as trouble:
        raise Refused(Refusal("tag", f"Tag: {trouble}", "Scan it again, or type the eight characters.")) from None
    except Tag.DoesNotExist:
        raise Refused(
            Refusal("tag", "Tag: no such tag was ever printed here.", "Use one from the printed roll.")
        ) from None
    if tag.thing:
        raise Refused(Refusal("tag-tied", f"Tag {tag.code} is tied to {tag.thing} already.", "Take an unused tag."))
    return tag


def of_thing(thing: Component | Location | Pattern) -> dict[str, Any]:
    return {type(thing).__name__.lower(): thing}
