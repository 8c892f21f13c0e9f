"""The steps of a renewal: who does them, by when, done, failed or not needed."""

from django.http import Http404
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.confirm_form import ask, of_renewal, seen, sent
from parts.common.shortcuts import renewal_or_404
from parts.common.small_forms import PromiseForm, Why
from parts.foundry.writers.castings import against_step
from parts.models import RenewalStep

from ..forms.jobs import StepAdd, StepDone, StepEdit, StepFailed
from ..writers import steps as writers

METHODS = ["GET", "HEAD", "POST"]


@who_may("renew")
@require_http_methods(METHODS)
def add_step(request, pk):
    renewal = renewal_or_404(pk)
    form = StepAdd(sent(request), renewal=renewal, initial=seen(renewal, currency="GBP"))

    def do(entered):
        step = writers.add_step(renewal, request.user, seen=form.cleaned_data["seen"], **entered)
        return f"“{step.name}” is added.", renewal

    return _ask(request, form, do, renewal, heading="A further step", button="Add the step")


@who_may("renew")
@require_http_methods(METHODS)
def edit_step(request, pk):
    step = step_or_404(pk)
    names = ("name", "firm", "who", "ordered", "estimate", "committed", "actual", "currency", "papers", "note")
    start = {name: getattr(step, name) for name in names}
    form = StepEdit(sent(request), initial=seen(step.renewal, **start))

    def do(entered):
        writers.edit_step(step, request.user, seen=form.cleaned_data["seen"], **entered)
        return "Kept. Next: note the day that was promised.", step.renewal

    return _ask(request, form, do, step.renewal, heading=f"Who, when, how much: {step.name}", button="Save")


@who_may("renew")
@require_http_methods(METHODS)
def promise_step(request, pk):
    step = step_or_404(pk)
    form = PromiseForm(sent(request), initial=seen(step.renewal, promised=step.promised))

    def do(entered):
        writers.promise_step(
            step, request.user, new=entered["promised"], why=entered["why"], seen=form.cleaned_data["seen"]
        )  # fmt: skip
        return "The promised day is kept, and the one before it stays on record.", step.renewal

    return _ask(request, form, do, step.renewal, heading=f"Promised day: {step.name}", button="Save day")


@who_may("renew")
@require_http_methods(METHODS)
def finish_step(request, pk):
    step = step_or_404(pk)
    start = {"done": writing.today(), "actual": step.actual, "currency": step.currency, "papers": step.papers}
    against = against_step(step)
    may_pass = bool(against) and request.user.is_engineer
    form = StepDone(sent(request), initial=seen(step.renewal, **start), may_pass=may_pass)

    def do(entered):
        writers.finish_step(step, request.user, seen=form.cleaned_data["seen"], **entered)
        return f"“{step.name}” is done.", step.renewal

    return _ask(
        request, form, do, step.renewal, heading=f"Done: {step.name}", button="Mark done", says=step.note,
        against=against,
    )  # fmt: skip


@who_may("renew")
@require_http_methods(METHODS)
def drop_step(request, pk):
    step = step_or_404(pk)
    form = Why(sent(request), initial=seen(step.renewal))

    def do(entered):
        writers.drop_step(step, request.user, reason=entered["reason"], seen=form.cleaned_data["seen"])
        return f"“{step.name}” is not needed.", step.renewal

    return _ask(request, form, do, step.renewal, heading=f"Not needed: {step.name}", button="Mark not needed")


@who_may("renew")
@require_http_methods(METHODS)
def fail_step(request, pk):
    """It went wrong: the blank goes, the route goes back."""
    step = step_or_404(pk)
    may_withdraw = may(request.user.role_names, "withdraw")
    start = {"actual": step.actual, "currency": step.currency}
    form = StepFailed(sent(request), initial=seen(step.renewal, **start), step=step, may_withdraw=may_withdraw)

    def do(entered):
        again = writers.fail_step(step, request.user, seen=form.cleaned_data["seen"], **entered)
        return f"“{step.name}” failed. Next, again: {again[0].name}.", step.renewal

    return _ask(
        request, form, do, step.renewal, heading=f"It failed: {step.name}", button="Mark failed", danger=True,
        says="What it cost and how late it was stays. The route goes back to the step you name.",
    )  # fmt: skip


def _ask(request, form, do, renewal, **page):
    address, crumbs = of_renewal(renewal)
    return ask(request, form, do, back=address, crumbs=crumbs, thing=renewal, **page)


def step_or_404(pk) -> RenewalStep:
    """With its renewal and all that the crumbs name."""
    step = RenewalStep.objects.by_number(pk)
    if step is None:
        raise Http404("No such step.")
    return step
