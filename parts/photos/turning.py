"""A photo that lies on its side, turned: as another picture in its stead, since a browser keeps each for good."""

import secrets
from typing import BinaryIO, cast

from django.core.files import File

from core.domain.refusals import Refusal, Refused
from core.log import idempotency
from core.models import Event, Person
from parts.actions import writing

from ..models import Photo
from . import mending
from .pictures import PictureError, make_pictures
from .writers import NAME_BYTES, flush_folder, original_name, originals, remove_files, save_pictures, shown


def turn(photo: Photo, actor: Person, *, quarters: int) -> Photo:
    """By so many quarters to the right. The one that lay on its side stays on the disk, and in the history."""
    turned = (photo.quarters + quarters) % 4
    written: list = []
    try:
        with originals().open(original_name(photo)) as file:
            pictures = make_pictures(cast(BinaryIO, file), quarters=turned)
            new = Photo(
                name=secrets.token_hex(NAME_BYTES), original_suffix=photo.original_suffix, content=photo.content,
                width=pictures.width, height=pictures.height, quarters=turned, by_id=photo.by_id, at=photo.at,
            )  # fmt: skip
            save_pictures(new, pictures, File(file), written)
        for storage in (originals(), shown()):
            flush_folder(storage)
        with writing.one_transaction():
            _swap(mending.held(photo, actor), new, actor)
    except (PictureError, FileNotFoundError) as trouble:
        remove_files(written)
        raise Refused(Refusal("photo", f"It cannot be turned: {trouble}", "Add another photo.")) from None
    except BaseException:
        remove_files(written)
        raise
    idempotency.if_undone(lambda: remove_files(written))
    return new


def _swap(old: Photo, new: Photo, actor: Person) -> None:
    for name in (*mending.OF, "caption"):
        setattr(new, name, getattr(old, name))
    new.save()
    kinds = {name: writing.SUBJECT_KINDS[name.removesuffix("_id")] for name in mending.OF}
    about = [(kinds[name], number) for name in mending.OF if (number := getattr(old, name))]
    data = {"photo": new.name, "instead": old.name}
    writing.write(actor, [writing.Entry(word="turn photo", about=about, data=data)])
    _take_off(old)


def turned_back(event: Event, undone: Event) -> None:
    """The picture before is shown again. Inside a transaction of the caller."""
    new, old = (Photo.objects.select_for_update(of=("self",)).get(name=event.data[key]) for key in ("photo", "instead"))
    if not any(getattr(new, name) for name in mending.OF):
        raise Refused(Refusal("stale", "The photo was turned or taken out since.", "Look at the page again."))
    mending.in_no_record(new)
    for name in (*mending.OF, "caption"):
        setattr(old, name, getattr(new, name))
    old.save(update_fields=[*mending.OF, "caption"])
    _take_off(new)


def _take_off(photo: Photo) -> None:
    for name in mending.OF:
        setattr(photo, name, None)
    photo.save(update_fields=list(mending.OF))
