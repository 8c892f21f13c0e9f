"""Writers of the steps of a renewal. A step that fails stays on record, with its cost and delay, and the route goes
back to an earlier one."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.perform import perform
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.job_words import StepEnd
from parts.domain.jobs import failing_troubles, made_again
from parts.domain.pattern_words import is_casting
from parts.domain.routes import MOST_STEPS
from parts.domain.rows import ActionInput
from parts.domain.words import Destination
from parts.foundry.writers.castings import against_step, note_castings
from parts.foundry.writers.patterns import pass_over
from parts.holds.held import held_step
from parts.models import Component, Renewal, RenewalStep

from .renewals import locked, log, rows_of, settle, still_open

FIELDS = ("name", "papers", "note", *(field for field in jobs.JOB if field != "done"))
AFTERWARDS = ("estimate", "committed", "actual", "currency", "papers", "note")
"""What may still be put right about a step that is done or failed."""


def add_step(
    renewal: Renewal, actor, *, name: str, after: RenewalStep | None = None, seen=None, **entered
) -> RenewalStep:
    """A further step, behind the one named or at the end."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal = locked(renewal, seen)
        still_open(renewal)
        promised = entered.pop("promised", None)
        if renewal.steps.count() >= 10 * MOST_STEPS:
            raise Refused(Refusal("name", "Step: the route has too many steps.", "Close it, and open another one."))
        step = RenewalStep(renewal=renewal, number=_number_after(renewal, after))
        jobs.fill(step, {"name": name, **entered}, FIELDS)
        step.promised = promised
        _check(step)
        step.promised = None
        step.save()
        event = log(actor, "add step", renewal, step=step.name, **jobs.costs_of(step))
        if promised:
            jobs.promise(step, promised, "", event, actor)
            step.save()
        renewal.save()
        refresh(renewal.position_id)
        return step


def _number_after(renewal, after) -> int:
    steps = list(renewal.steps.all())
    if after is None:
        return max((step.number for step in steps), default=0) + 1
    for step in steps:
        if step.number > after.number:
            step.number += 1
            step.save(update_fields=["number"])
    return after.number + 1


def edit_step(step: RenewalStep, actor, *, seen=None, **entered) -> None:
    """Who does it, when it was ordered, for how much. A promised day is changed by `promise_step`."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal, step = _both(step, seen)
        if step.ended == StepEnd.OPEN:
            still_open(renewal)
        allowed = FIELDS if step.ended == StepEnd.OPEN else AFTERWARDS
        changed = jobs.fill(step, {k: v for k, v in entered.items() if k in allowed}, FIELDS)
        _check(step)
        if changed:
            log(actor, "edit step", renewal, step=step.name, **changed)
            step.save()
            renewal.save()
            refresh(renewal.position_id)


def promise_step(step: RenewalStep, actor, *, new: date | None, why: str = "", seen=None) -> None:
    """Note the day by which it is promised now; what was promised before stays, and a later day is a slip."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal, step = _open_both(step, seen)
        found = jobs.promise_refused(step, new, why)
        if found:
            raise Refused(*found)
        event = log(
            actor, "promise", renewal, remark=why, step=step.name, old=jobs.plain(step.promised), new=jobs.plain(new)
        )
        jobs.promise(step, new, why, event, actor)
        step.save()
        renewal.save()
        refresh(renewal.position_id)


def finish_step(
    step: RenewalStep, actor, *, done: date | None = None, override: str = "", seen=None, **entered
) -> None:
    """The step is done. A casting waits for its pattern to be looked over, unless the engineer says
    why not. When it was the last and the new piece is passed, the route closes."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal, step = _open_both(step, seen)
        passed, left = pass_over(against_step(step), actor, override)
        if found := [*held_step(step), *left]:
            raise Refused(*found)
        changed = jobs.fill(step, entered, ("actual", "currency", "papers", "note"))
        step.done = done or writing.today()
        _check(step)
        step.ended, step.ended_on = StepEnd.DONE.value, step.done
        step.save()
        if passed:
            changed |= {"override": override.strip(), "passed_over": passed}
        log(actor, "finish step", renewal, step=step.name, done=jobs.plain(step.done), **changed)
        if is_casting(step.name):
            note_castings(renewal, actor)
        renewal.save()
        settle(renewal, actor)
        refresh(renewal.position_id)


def drop_step(step: RenewalStep, actor, *, reason: str, seen=None) -> None:
    """It is not needed after all."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal, step = _open_both(step, seen)
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why it is not needed."))
        _end(step, StepEnd.DROPPED, reason)
        log(actor, "drop step", renewal, remark=reason, step=step.name)
        renewal.save()
        settle(renewal, actor)
        refresh(renewal.position_id)


def fail_step(
    step: RenewalStep,
    actor,
    *,
    reason: str,
    back_to: RenewalStep | None,
    blank: Component | None = None,
    seen=None,
    **entered,
) -> list[RenewalStep]:
    """It went wrong: the blank is withdrawn with the reason, and the route goes back to the step named. What it cost
    and how late it was stays. Answers the steps that are to be made again."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal, step = _open_both(step, seen)
        found = failing_troubles(rows_of(renewal), step.pk, back_to.pk if back_to else None, reason)
        if blank is not None and blank.renewal_id != renewal.pk:
            found.append(Refusal("blank", "Blank: that piece is not of this renewal.", "Choose one that is."))
        if found:
            raise Refused(*found)
        assert back_to is not None  # without a step to go back to it was refused
        changed = jobs.fill(step, entered, ("actual", "currency", "note"))
        _check(step)
        _end(step, StepEnd.FAILED, reason)
        again = _made_again(renewal, step, back_to)
        event = log(
            actor, "fail step", renewal, remark=reason, step=step.name, back_to=back_to.name, blank=blank and blank.pk,
            again=[[one.name, jobs.plain(one.estimate), one.currency] for one in again if one.estimate is not None],
            **changed,
        )  # fmt: skip
        if blank is not None:
            given = ActionInput(reason=reason, destination=Destination.SCRAPPED, confirmed=True)
            perform("withdraw", blank, actor, given)
        renewal.last_event = event.pk
        renewal.save()
        refresh(renewal.position_id)
        return again


def _made_again(renewal, failed, back_to) -> list[RenewalStep]:
    """New rows for what has to be done again, right behind the failed step; what comes later moves up."""
    repeated = [row.id for row in made_again(rows_of(renewal), failed.pk, back_to.pk)]
    if failed.pk not in repeated:
        repeated.append(failed.pk)
    by_id = renewal.steps.in_bulk()
    for later in by_id.values():
        if later.number > failed.number:
            later.number += len(repeated)
            later.save(update_fields=["number"])
    return [
        RenewalStep.objects.create(
            renewal=renewal,
            number=failed.number + place,
            name=by_id[pk].name,
            firm=by_id[pk].firm,
            who=by_id[pk].who,
            estimate=by_id[pk].estimate,
            currency=by_id[pk].currency,
            note=by_id[pk].note,
            again=by_id[pk],
        )
        for place, pk in enumerate(repeated, 1)
    ]


def _end(step, how: StepEnd, why: str):
    step.ended, step.ended_on, step.why_ended = how.value, writing.today(), why.strip()[:300]
    step.save()


def _check(step):
    found = jobs.troubles(step)
    if not step.name:
        found.append(Refusal("name", "Step: nothing was written.", "Say in a few words what is done."))
    if found:
        raise Refused(*found)


def _both(step, seen):
    """The step and its renewal, held against other writers; the renewal first, as everywhere."""
    renewal = locked(step.renewal, seen)
    return renewal, RenewalStep.objects.select_for_update(of=("self",)).get(pk=step.pk)


def _open_both(step, seen):
    renewal, step = _both(step, seen)
    still_open(renewal)
    if step.ended != StepEnd.OPEN:
        word = {StepEnd.DONE: "done", StepEnd.FAILED: "failed", StepEnd.DROPPED: "not needed"}[step.ended]
        raise Refused(Refusal("step", f"The step “{step.name}” is {word} already.", "Choose one that is open."))
    return renewal, step
