"""Ordinary pieces, accepted in a group with one signature that names each: what is ordinary, and what drops out."""

from dataclasses import replace

from core.domain.refusals import Refusal

from .exams_due import missing_exams
from .rows import ActionContext, Examination
from .words import Kind

AUTHORISED = "accept in group"
"""How an authorisation of a person words it."""


def authorised_for_groups(context: ActionContext) -> Refusal | None:
    if context.engineer or AUTHORISED in context.actor.authorised:
        return None
    return Refusal(
        "not-authorised",
        "You are not authorised to accept pieces in groups.",
        "Ask the responsible engineer.",
    )


def is_ordinary(context: ActionContext) -> Refusal | None:
    """A failure of it hurts nobody, so that a look is enough and one signature may stand for several."""
    place = context.place
    if place is None:
        return None
    if place.safety_critical:
        return _by_itself("is safety-critical")
    if place.pressure_part:
        return _by_itself("is under pressure")
    if place.inner_critical:
        return _by_itself("has safety-critical pieces or pieces under pressure in it")
    return None


def _by_itself(why: str) -> Refusal:
    return Refusal("not-ordinary", f"Its place {why}.", "The responsible engineer accepts it separately.")


def did_no_work_on_it(context: ActionContext) -> Refusal | None:
    if context.actor.id in context.this_piece.workers:
        return Refusal("own-work", "You recorded work on it.", "Somebody else who is authorised accepts it.")
    return None


def shows_no_crack(context: ActionContext) -> Refusal | None:
    if context.this_piece.cracked:
        return Refusal("cracked", "It is cracked, or may be.", "The responsible engineer decides what was found.")
    return None


def needs_a_look_of_its_own(context: ActionContext) -> Refusal | None:
    """After a repair the visual examination is a record of its own, and says what was looked at."""
    place, piece = context.place, context.piece
    if place is None or piece is None or not piece.repaired:
        return None
    if all(look.kind is not Kind.VISUAL for look in missing_exams(place, piece)):
        return None
    sentence = f"It was repaired ({piece.repaired}), and nobody has signed an examination since."
    return Refusal("repaired", sentence, "Have it examined separately.")


def as_if_looked_at(context: ActionContext) -> ActionContext:
    """The case as it stands once this person has looked at the piece and found it sound: what the group asks first."""
    piece = context.this_piece
    latest = max(piece.event, piece.bared_event, piece.cleaned_event)
    look = Examination(kind=Kind.VISUAL, event=latest + 1, by=context.actor.id, on=context.today)
    return replace(context, piece=replace(piece, examinations=(*piece.examinations, look)))
