"""A photo put right: what it shows, the right piece, or out. Each can be undone; one in a signed record stays there."""

from typing import Any

from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from parts.actions import writing

from ..domain.plain import says_enough
from ..models import Component, Location, Pattern, Photo, Position
from .writers import LONGEST_CAPTION

Thing = Component | Position | Location | Pattern
OF = ("component_id", "position_id", "location_id", "pattern_id", "subassembly_id")


def edits_of(photo: Photo):
    """The events that change what the form of a photo shows."""
    return Event.objects.filter(action="put photo right", data__photo=photo.name)


def put_right(
    photo: Photo, actor: Person, *, caption: str, thing: Thing | None = None, seen: int | None = None
) -> None:
    """Another caption; and another thing, if one is given."""
    caption = " ".join(caption.split())
    if len(caption) > (LONGEST_CAPTION or 0):
        raise Refused(Refusal("caption", f"What it shows: {LONGEST_CAPTION} characters are the most.", "Say less."))
    with writing.one_transaction():
        photo = held(photo, actor)
        writing.not_overtaken(edits_of(photo), seen)
        now = _of(photo) if thing is None else {f"{type(thing)._meta.model_name}_id": thing.pk}
        _change(photo, actor, "put photo right", now | {"caption": caption})


def take_out(photo: Photo, actor: Person, *, reason: str) -> None:
    """It is shown with nothing any more. The picture, and why it was taken out, stay in the history of the thing."""
    if not says_enough(reason):
        raise Refused(Refusal("reason", "Reason: say in a few words what was wrong with it.", ""))
    with writing.one_transaction():
        photo = held(photo, actor)
        _change(photo, actor, "take photo out", {"caption": photo.caption}, " ".join(reason.split()))


def as_before(event: Event, undone: Event) -> None:
    """Undo either. Inside a transaction of the caller."""
    photo = Photo.objects.select_for_update(of=("self",)).get(name=event.data["photo"])
    if _of(photo) | {"caption": photo.caption} != event.data["now"]:
        raise Refused(Refusal("stale", "The photo was put right again since.", "Look at the page again."))
    in_no_record(photo)
    _set(photo, event.data["was"])


def may_mend(photo: Photo, actor: Person) -> bool:
    """Whoever took it, and at the bench and in the stores anybody."""
    own = photo.by_id == actor.pk and may(actor.role_names, "photograph")
    return own or may(actor.role_names, "put photos right")


def held(photo: Photo, actor: Person) -> Photo:
    photo = Photo.objects.select_for_update(of=("self",)).get(pk=photo.pk)
    if not may_mend(photo, actor):
        raise Refused(Refusal("role", "Somebody else took this photo.", "Ask the person who took it, or a fitter."))
    if not _of(photo):
        raise Refused(Refusal("out", "This photo was taken out already.", ""))
    in_no_record(photo)
    return photo


def _of(photo: Photo) -> dict[str, int]:
    return {name: number for name in OF if (number := getattr(photo, name))}


def in_no_record(photo: Photo) -> None:
    """Rooms and apps above may have marked it; a signed record prints what it shows."""
    for relation in Photo._meta.related_objects:
        if relation.related_model._base_manager.filter(**{relation.field.name: photo}).exists():
            raise Refused(Refusal("signed", "It is part of a record, so it stays as it is.", "Add another photo."))


def _change(photo: Photo, actor: Person, word: str, now: dict[str, Any], remark: str = "") -> None:
    was = _of(photo) | {"caption": photo.caption}
    if was == now:
        return
    kinds = {name: writing.SUBJECT_KINDS[name.removesuffix("_id")] for name in OF}
    about: dict[tuple[str, int], None] = dict.fromkeys(
        (kinds[name], int(one[name])) for one in (was, now) for name in OF if name in one
    )
    data = {"photo": photo.name, "was": was, "now": now}
    writing.write(actor, [writing.Entry(word=word, about=list(about), remark=remark, data=data)])
    _set(photo, now)


def _set(photo: Photo, data: dict[str, Any]) -> None:
    for name in OF:
        setattr(photo, name, data.get(name))
    photo.caption = data["caption"]
    photo.save(update_fields=[*OF, "caption"])
