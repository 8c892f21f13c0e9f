"""A promised day that was noted by mistake: the one before counts again. The mistake stays on record and is no slip."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event
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
    kept = Promise.objects.filter(event=event).first()
    if kept is None:
        _pattern(event, undone)
    elif kept.step_id:
        _step(kept, undone)
    else:
        _repair(kept, undone)


def _step(kept: Promise, undone: Event) -> None:
    step = RenewalStep.objects.select_for_update(of=("self",)).select_related("renewal").get(pk=kept.step_id)
    if step.ended != StepEnd.OPEN or step.promised != kept.new:
        raise Refused(SINCE)
    jobs.promise(step, kept.old, WHY, undone, undone.actor)
    step.save()
    step.renewal.last_event = undone.pk
    step.renewal.save()
    refresh(step.renewal.position_id)


def _repair(kept: Promise, undone: Event) -> None:
    repair = Repair.objects.select_for_update(of=("self",)).select_related("component").get(pk=kept.repair_id)
    if repair.ended != Ending.OPEN or repair.promised != kept.new:
        raise Refused(SINCE)
    jobs.promise(repair, kept.old, WHY, undone, undone.actor)
    repair.last_event = undone.pk
    repair.save()
    refresh(repair.component.place_id)


def _pattern(event: Event, undone: Event) -> None:
    (about,) = event.subjects.filter(kind="pattern")
    pattern = Pattern.objects.select_for_update(of=("self",)).get(pk=about.number)
    if not pattern.is_out or jobs.plain(pattern.promised_back) != event.data["new"]:
        raise Refused(SINCE)
    old = event.data["old"]
    pattern.promised_back, pattern.last_event = old and date.fromisoformat(old), undone.pk
    pattern.save()
