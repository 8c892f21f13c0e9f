"""Tags tied and replaced by hand. A thing may have had several; one is current, the others still lead to it."""

from core.domain.refusals import Refusal, Refused
from core.models import Event

from ..actions import writing
from ..actions.tags import free_tag, fresh_codes, of_thing
from ..models import Component, Location, Pattern, Tag


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
        writing.write(
            actor,
            [
                writing.Entry(word="tie tag", about=[("location", place.pk)], data={"tag": borne[place.pk].code})
                for place in bare
            ],
        )
        return [borne[place.pk] for place in locations]


def tie(code: str, thing: Component | Location | Pattern, actor) -> Tag:
    """Tie an unused tag to a thing; a tag it had before still leads to it."""
    writing.allow(actor, "tie tag")
    with writing.one_transaction():
        tag = free_tag(code)
        old = thing.tags.filter(current=True).first()
        data = {"tag": tag.code} | ({"instead": old.code} if old else {})
        thing.tags.filter(current=True).update(current=False)
        for field, value in of_thing(thing).items():
            setattr(tag, field, value)
        tag.current, tag.tied_by = True, actor
        tag.save()
        if isinstance(thing, Component):
            piece = writing.locked(thing.pk)
            writing.log(actor, "tie tag", component=piece, data=data)
            piece.save(update_fields=["last_event"])
        elif isinstance(thing, Pattern):
            event = writing.log(actor, "tie tag", pattern=thing, data=data)
            Pattern.objects.filter(pk=thing.pk).update(last_event=event.pk)
        else:
            writing.log(actor, "tie tag", location=thing, data=data)
        return tag


def untie(event: Event, undone: Event) -> None:
    """The tag is free again, and the one before hangs on the thing. Inside a transaction of the caller."""
    tag = Tag.objects.select_for_update().get(code=event.data["tag"])
    if not tag.current:
        raise Refused(Refusal("stale", f"Another tag was tied instead of {tag.code} since.", "Look at the page again."))
    thing = of_thing(tag.thing)
    Tag.objects.filter(pk=tag.pk).update(**dict.fromkeys(thing), current=False, tied_by=None)
    Tag.objects.filter(code=event.data.get("instead", ""), **thing).update(current=True)
