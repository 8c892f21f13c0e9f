"""Tags: issued, tied, replaced. A thing may have had several; one is current, the others still lead to it."""

from ..domain.refusals import Refusal, Refused
from ..domain.tagcodes import TagError, check, new_code
from ..models import Component, Location, Tag
from . import writing


def fresh_codes(count: int) -> list[str]:
    """Codes that no tag bears yet."""
    codes = set()
    while len(codes) < count:
        wanted = {new_code() for _ in range(count - len(codes))} - codes
        codes |= wanted - set(Tag.objects.filter(code__in=wanted).values_list("code", flat=True))
    return sorted(codes)


def unused(count: int) -> list[Tag]:
    """A roll of tags tied to nothing yet, to be printed beforehand."""
    return Tag.objects.bulk_create([Tag(code=code) for code in fresh_codes(count)])


def issue(thing: Component | Location, actor) -> Tag:
    """A new code for a thing that has none."""
    return Tag.objects.create(code=fresh_codes(1)[0], current=True, tied_by=actor, **_of(thing))


def issue_for_location(location: Location, actor) -> Tag:
    """A crate or shelf gets its first tag, to be printed; one that bears a tag keeps it."""
    writing.allow(actor, "print labels")
    with writing.one_transaction():
        borne = location.tags.filter(current=True).first()
        if borne:
            return borne
        tag = issue(location, actor)
        writing.log(actor, "tie tag", location=location, data={"tag": tag.code})
        return tag


def tie(code: str, thing: Component | Location, actor) -> Tag:
    """Tie an unused tag to a thing; a tag it had before still leads to it."""
    writing.allow(actor, "tie tag")
    with writing.one_transaction():
        tag = free_tag(code)
        thing.tags.filter(current=True).update(current=False)
        for field, value in _of(thing).items():
            setattr(tag, field, value)
        tag.current, tag.tied_by = True, actor
        tag.save()
        if isinstance(thing, Component):
            piece = writing.locked(thing.pk)
            writing.log(actor, "tie tag", component=piece, data={"tag": tag.code})
            piece.save(update_fields=["last_event"])
        else:
            writing.log(actor, "tie tag", location=thing, data={"tag": tag.code})
        return tag


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
    if tag.component_id or tag.location_id:
        whose = tag.component or tag.location
        raise Refused(Refusal("tag-tied", f"Tag {tag.code} is tied to {whose} already.", "Take an unused tag."))
    return tag


def _of(thing) -> dict:
    return {"component": thing} if isinstance(thing, Component) else {"location": thing}
