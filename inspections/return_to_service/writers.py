"""Writers of the list for the return to service."""

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from parts.actions import writing
from parts.models import Overhaul

from ..domain.return_list import against, content_of
from ..models import AskedItem, ReturnToService, Tick
from .listing import allowed_on, edits_of, items_of


def ask_for(overhaul: Overhaul, actor: Person, *, words: str, asked_by: str) -> AskedItem:
    writing.allow(actor, "ask for return item")
    words, asked_by = " ".join(words.split()), " ".join(asked_by.split())
    with writing.one_transaction():
        _open(overhaul)
        trouble = []
        if not words:
            trouble.append(Refusal("words", "Item: nothing was written.", "Say what must be shown."))
        if not asked_by:
            trouble.append(Refusal("asked_by", "Asked by: nobody is named.", "Name the competent person or body."))
        if AskedItem.objects.filter(overhaul=overhaul, dropped=False, words__iexact=words).exists():
            trouble.append(Refusal("words", "Item: that is on the list already.", "Look for it there."))
        if trouble:
            raise Refused(*trouble)
        item = AskedItem.objects.create(overhaul=overhaul, words=words, asked_by=asked_by)
        _log(actor, "ask for return item", item, words)
        return item


def drop(item: AskedItem, actor: Person, *, reason: str) -> None:
    """It was entered by mistake, or is asked for no longer; the reason stays on record."""
    writing.allow(actor, "ask for return item")
    with writing.one_transaction():
        item = _held(item)
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why it is no longer asked for."))
        item.dropped = True
        item.save(update_fields=["dropped"])
        _log(actor, "drop return item", item, f"{item.words}: {reason.strip()}")


def tick(item: AskedItem, actor: Person, *, by_what: str) -> Tick:
    writing.allow(actor, "tick return item")
    with writing.one_transaction():
        item = _held(item)
        if _standing(item):
            raise Refused(Refusal("twice", "It is ticked already.", "Take that tick back first."))
        if not by_what.strip():
            raise Refused(Refusal("by_what", "Shown by: nothing was written.", "Name the record or the paper."))
        return _tick(item, actor, "tick return item", by_what.strip(), shown=True)


def take_back(item: AskedItem, actor: Person, *, reason: str) -> Tick:
    """The tick stays on record, and counts no longer."""
    writing.allow(actor, "tick return item")
    with writing.one_transaction():
        item = _held(item)
        if not _standing(item):
            raise Refused(Refusal("not-ticked", "It is not ticked.", "There is nothing to take back."))
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why it does not count."))
        return _tick(item, actor, "take back return tick", reason.strip(), shown=False)


def sign(overhaul: Overhaul, actor: Person, *, seen: int | None = None) -> ReturnToService:
    """The list as it stands, with the concessions on it. It grants nothing."""
    writing.allow(actor, "sign return list")
    with writing.one_transaction():
        _open(overhaul)
        writing.not_overtaken(edits_of(overhaul), seen)
        items, allowed = items_of(overhaul), allowed_on(overhaul)
        if trouble := against(items, allowed, writing.today()):
            raise Refused(*trouble)
        event = writing.log(
            actor, "sign return list", overhaul=overhaul, locomotive=overhaul.locomotive, data={"items": len(items)}
        )
        return ReturnToService.objects.create(
            overhaul=overhaul, content=content_of(items, allowed), by=actor, at=timezone.now(), event=event
        )


def _open(overhaul: Overhaul) -> None:
    writing.hold(overhaul)
    if overhaul.closed:
        raise Refused(Refusal("closed", "The overhaul is closed.", "Open the next one first."))


def _held(item: AskedItem) -> AskedItem:
    item = AskedItem.objects.select_for_update(of=("self",)).select_related("overhaul__locomotive").get(pk=item.pk)
    _open(item.overhaul)
    if item.dropped:
        raise Refused(Refusal("dropped", "It is no longer on the list.", "Enter it again if it is asked for again."))
    return item


def _standing(item: AskedItem) -> bool:
    last = item.ticks.last()
    return last is not None and last.shown


def _tick(item: AskedItem, actor: Person, word: str, by_what: str, *, shown: bool) -> Tick:
    event = _log(actor, word, item, f"{item.words}: {by_what}")
    return Tick.objects.create(item=item, shown=shown, by_what=by_what, by=actor, at=timezone.now(), event=event)


def _log(actor: Person, word: str, item: AskedItem, remark: str) -> Event:
    overhaul = item.overhaul
    return writing.log(
        actor, word, overhaul=overhaul, locomotive=overhaul.locomotive, remark=remark, data={"item": item.pk}
    )
