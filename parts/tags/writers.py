"""Tags: issued, tied, replaced. A thing may have had several; one is current, the others still lead to it."""

from core.domain.refusals import Refusal, Refused
from core.log.writing import logged
from core.models import Event

from ..actions import writing
from ..domain.tagcodes import TagError, check, new_code
from ..models import Component, Location, Pattern, Tag


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


def issue(thing: Component | Location | Pattern, actor) -> Tag:
    """A new code for a thing that has none."""
    return Tag.objects.create(code=fresh_codes(1)[0], current=True, tied_by=actor, **_of(thing))


def issue_for_location(location: Location, actor) -> Tag:
    """A crate or shelf gets its first tag, to be printed; one that bears a tag keeps it."""
    writing.allow(actor, "print labels")
    return tags_of_locations([location], actor)[0]


def tags_of_locations(locations: list[Location], actor) -> list[Tag]:
    """The tag that each place bears now, in the order given; those without one get their first."""
    with writing.one_transaction():
        borne = {tag.location_id: tag for tag in Tag.objects.borne_by_locations([place.pk for place in locations])}
        bare = [place for place in dict.fromkeys(locations) if place.pk not in borne]
        codes = fresh_codes(len(bare))
        for place, code in zip(bare, codes, strict=True):
            borne[place.pk] = Tag(code=code, location=place, current=True, tied_by=actor)
        Tag.objects.bulk_create(borne[place.pk] for place in bare)
        events = Event.objects.bulk_create(
            Event(actor=actor, action="tie tag", location=place, data={"tag": borne[place.pk].code}) for place in bare
        )
        logged(*events)
        return [borne[place.pk] for place in locations]


def tie(code: str, thing: Component | Location | Pattern, actor) -> Tag:
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
        elif isinstance(thing, Pattern):
            event = writing.log(actor, "tie tag", pattern=thing, data={"tag": tag.code})
            Pattern.objects.filter(pk=thing.pk).update(last_event=event.pk)
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
    if tag.thing:
        raise Refused(Refusal("tag-tied", f"Tag {tag.code} is tied to {tag.thing} already.", "Take an unused tag."))
    return tag


def _of(thing) -> dict:
    return {type(thing)._meta.model_name: thing}
