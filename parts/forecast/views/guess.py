"""A guess of the work left on one subassembly."""

from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may

from ...actions import writing
from ...common.confirm_form import ask, sent
from ...common.shortcuts import crumbs, subassembly_or_404
from ...common.small_forms import with_seen
from ...domain.plain import several
from ...domain.sequence import OrderLoop
from ...models import MachineWork
from ...models.planning import TOOK
from .. import writers
from ..forms import GuessForm
from ..loading import load_groups


@who_may("plan")
@require_http_methods(["GET", "HEAD", "POST"])
def guess(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    try:
        groups = load_groups(subassembly.locomotive, writing.today())
    except OrderLoop:  # the page of the dates says where the order contradicts itself
        return redirect("forecast", slug)
    steps = next((group.steps for group in groups if group.code == code), 0)
    before = getattr(subassembly, "guess", None)
    initial = {"hands": 2}
    if before:
        initial |= {name: getattr(before, name) for name in ("least", "likely", "most", "hands")}
    back = reverse("forecast", args=[slug])

    def do(entered):
        writers.guess_work_left(request.user, subassembly, steps=steps, **entered)
        return f"The work left on {subassembly.name} is guessed.", back

    form = with_seen(GuessForm(sent(request), initial=initial), writers.guess_edits(subassembly))
    return ask(
        request, form, do, heading=f"Guess the work left: {subassembly.name}",
        button="Save guess", back=back, crumbs=crumbs(subassembly),
        says=f"Its own pieces have {several(steps, 'step')} before them until all are refitted: strip, clean, examine, "
        "accept and refit. Guess how many open days those take. As steps are done, the guess shrinks by itself.",
        template="parts/forecast/guess.html", subassembly=subassembly, took=TOOK,
        machine_work=MachineWork.objects.filter(subassembly=subassembly, done_on=None).select_related("machine"),
    )  # fmt: skip
