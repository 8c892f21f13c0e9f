"""Boxing up, written: what was inside and how it was held, under two names."""

from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone

from core.domain.catalogue import CATALOGUE
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from parts.actions import writing
from parts.domain.rows import Piece
from parts.domain.words import State
from parts.models import Component, Photo, Subassembly

from ..domain.boxing_up import Inside, against, miscounted
from ..models import BoxedPiece, BoxingUp
from .inside import Fitted, all_inside


def box_up(
    subassembly: Subassembly,
    actor: Person,
    *,
    checker: int | None,
    tools_in: int,
    tools_out: int,
    rags_in: int,
    rags_out: int,
    seen: str,
) -> BoxingUp:
    """Every photo of it that no earlier record has goes with this one. Raises Refused with all that is against it."""
    writing.allow(actor, "box up")
    with writing.one_transaction():
        writing.hold(subassembly)
        inside, fitted = all_inside(subassembly, writing.today())
        photos = list(unused_photos(subassembly))
        counts = [miscounted("tools", tools_in, tools_out), miscounted("rags", rags_in, rags_out)]
        trouble = [*against_closing(subassembly, inside, photos), *filter(None, counts)]
        trouble += _second_name(actor, checker)
        if not seen.strip():
            trouble.append(Refusal("seen", "Seen: nothing was written.", "Say what you both saw before closing it."))
        if trouble or checker is None:
            raise Refused(*trouble)
        pieces = [(one, piece) for one in inside for piece in one.refitted]
        event = _log(actor, checker, subassembly, len(pieces))
        made = BoxingUp.objects.create(
            subassembly=subassembly, tools_in=tools_in, tools_out=tools_out, rags_in=rags_in, rags_out=rags_out,
            seen=seen.strip(), at=timezone.now(), by=actor, checker_id=checker, event=event,
        )  # fmt: skip
        made.photos.set(photos)
        how = [(one, piece, fitted.get(piece.id, Fitted())) for one, piece in pieces]
        BoxedPiece.objects.bulk_create(_boxed(made, *row) for row in how)
        return made


def unused_photos(subassembly: Subassembly):
    return Photo.objects.filter(subassembly=subassembly, boxings_up=None).order_by("id")


def against_closing(subassembly: Subassembly, inside: list[Inside], photos: list[Photo]) -> list[Refusal]:
    """What is known before anything is typed."""
    latest = BoxingUp.objects.latest_of(subassembly)
    if latest and not undone(latest):
        return [Refusal("stands", "It is boxed up, and nothing came off since.", "Open its record.")]
    found = against(inside)
    if not photos:
        found.append(Refusal("photos", "No photo shows its inside.", "Take one before closing it."))
    return found


@dataclass(frozen=True)
class Undone:
    """What made a record void: a piece inside came off, or was opened up, since."""

    piece: Component
    past: str  # what was done to it, in words
    at: datetime
    actor: Person


def undone(boxing_up: BoxingUp) -> Undone | None:
    """The first such thing; None while the record stands."""
    pieces = boxing_up.pieces.values_list("component", flat=True)
    later = Event.objects.about("piece", list(pieces)).filter(pk__gt=boxing_up.event_id, from_state=State.REFITTED)
    found = later.exclude(to_state=State.REFITTED).select_related("actor").subject_of("piece").order_by("pk").first()
    if found is None:
        return None
    piece = Component.objects.get(pk=found.about)
    return Undone(piece, CATALOGUE.event(found.action).past.lower(), found.at, found.actor)


def _second_name(actor: Person, checker: int | None) -> list[Refusal]:
    if checker is None:
        return [Refusal("checker", "Checker: nobody is named.", "A second person looks inside, and signs.")]
    if checker == actor.pk:
        return [Refusal("checker", "Checker: that is you.", "Somebody else looks inside, and signs.")]
    if not Person.objects.filter(pk=checker, is_active=True).exists():
        return [Refusal("checker", "Checker: nobody here by that name.", "Choose somebody who was there and checked.")]
    return []


def _log(actor: Person, checker: int | None, subassembly: Subassembly, pieces: int) -> Event:
    about = writing.about(subassembly=subassembly, locomotive=subassembly.locomotive)
    entry = writing.Entry(word="box up", about=about, checker=checker, data={"pieces": pieces})
    return writing.write(actor, [entry])[0]


def _boxed(made: BoxingUp, one: Inside, piece: Piece, fitted: Fitted) -> BoxedPiece:
    held = fitted.held
    return BoxedPiece(
        boxing_up=made, component_id=piece.id, position_id=one.place.id, words=one.place.words or one.place.name,
        code=piece.tag, tightened=held.tightened, locked=held.locked, shims=held.shims, built=held.built_words,
        who="" if piece.left_alone else fitted.who, left_alone=piece.left_alone,
    )  # fmt: skip
