"""What somebody types at the bench, kept as typed until it is signed; then it is gone, in the same transaction."""

from django.db import transaction
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from inspections.models import Draft, Examination
from parts.actions import writing

from .like_pieces import sign_report
from .signing import sign


def keep(component, author, kind: str, merge, *, seen: str = "") -> dict:
    """Write down what was typed. `merge` makes the new of what was there, so that two pages do not undo each other.
    `seen` is the last event of the piece that the page knows: what comes after its record was signed is refused."""
    writing.allow(author, "examine")
    with transaction.atomic():
        draft, begun = Draft.objects.select_for_update().get_or_create(
            component=component, author=author, kind=kind, defaults={"at": timezone.now()}
        )
        if begun and seen and signed_since(component, author, kind, seen):
            raise Refused(Refusal("seen", "This sheet is signed.", "Open it again."))
        draft.entered, draft.at = merge(draft.entered), timezone.now()
        draft.save()
        return draft.entered


def signed_since(component, author, kind: str, seen: str) -> bool:
    later = Examination.objects.filter(component=component, signed_by=author, kind=kind)
    return seen.isascii() and seen.isdigit() and later.filter(event_id__gt=int(seen[:18])).exists()


def draft_of(component, author, kind: str) -> dict:
    """What this person typed and has not signed yet."""
    draft = Draft.objects.filter(component=component, author=author, kind=kind).first()
    return draft.entered if draft else {}


def sign_sheet(component, actor, *, kind: str, likes=(), **entered):
    """Sign what was kept, with like pieces in one report; what was typed on the way there is theirs now."""
    with writing.one_transaction():
        if likes:
            record = sign_report(component, actor, likes, kind=kind, **entered)
        else:
            record = sign(component, actor, kind=kind, **entered)
        Draft.objects.filter(component=component, author=actor, kind=kind).delete()
        return record
