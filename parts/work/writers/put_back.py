"""A promised day that was noted by mistake: the one before counts again. The mistake stays on record and is no slip."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.job_words import Ending, StepEnd
from parts.models import Pattern, Promise, RenewalStep, Repair

WHY = "noted by mistake"
SINCE = Refusal("followed", "Another day was promised since, or it is done.", "Note the day that they promise now.")


def nothing_more(event: Event, undone: Event) -> None:
    """A call: what was promised by it is put back by itself, and the firm's page leaves it out."""


def promised_as_before(event: Event, undone: Event) -> None:
    """Inside a transaction of the caller."""
    kept = Promise.objects.select_related("step__renewal", "repair__component").filter(event=event).first()
    if kept and kept.step:
        _step(kept, kept.step, undone)
    elif kept and kept.repair:
        _repair(kept, kept.repair, undone)
    else:
        _pattern(event, undone)


def _step(kept: Promise, step: RenewalStep, undone: Event) -> None:
    renewal = step.renewal
    writing.hold(renewal)
    writing.hold(step)
    if step.ended != StepEnd.OPEN or step.promised != kept.new:
        raise Refused(SINCE)
    jobs.promise(step, kept.old, WHY, undone, undone.actor)
    renewal.last_event = undone.pk
    step.save(update_fields=["promised"])
    renewal.save(update_fields=["last_event"])
    refresh(renewal.position_id)


def _repair(kept: Promise, repair: Repair, undone: Event) -> None:
    component = writing.locked(repair.component_id)
    writing.hold(repair)
    if repair.ended != Ending.OPEN or repair.promised != kept.new:
        raise Refused(SINCE)
    jobs.promise(repair, kept.old, WHY, undone, undone.actor)
    repair.last_event = undone.pk
    repair.save(update_fields=["promised", "last_event"])
    refresh(component.place_id)


def _pattern(event: Event, undone: Event) -> None:
    (about,) = event.subjects.filter(kind="pattern")
    pattern = Pattern.objects.select_for_update(of=("self",)).get(pk=about.number)
    if not pattern.is_out or jobs.plain(pattern.promised_back) != event.data["new"]:
        raise Refused(SINCE)
    old = event.data["old"]
    pattern.promised_back, pattern.last_event = old and date.fromisoformat(old), undone.pk
    pattern.save(update_fields=["promised_back", "last_event"])
