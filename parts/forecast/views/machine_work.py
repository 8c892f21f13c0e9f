"""Work that waits for a machine or for somebody who can do it, guessed apart."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may

from ...actions import writing
from ...common.confirm_form import ask, sent
from ...common.shortcuts import crumbs, subassembly_or_404
from ...models import MachineWork
from ...queries.attendance import skills_known
from .. import writers
from ..forms import MachineWorkForm


@who_may("plan")
@require_http_methods(["GET", "HEAD", "POST"])
def machine_work(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    back = reverse("guess", args=[slug, code])

    def do(entered):
        made = writers.plan_machine_work(request.user, subassembly, **entered)
        return f"{made.what} is planned.", back

    return ask(
        request, MachineWorkForm(sent(request), initial={"hands": 1}, skills=skills_known(writing.today())), do,
        heading=f"Work on a machine: {subassembly.name}", button="Save work", back=back, crumbs=crumbs(subassembly),
        says="Only what queues for a machine or for somebody who can do it. The rest is part of the guess.",
    )  # fmt: skip


@who_may("plan")
@require_POST
def end_machine_work(request, pk):
    work = MachineWork.objects.select_related("subassembly__locomotive").filter(pk=pk).first()
    if work is None:
        raise Http404("No such work.")
    writers.end_machine_work(request.user, work, request.POST.get("took", ""))
    messages.success(request, f"{work.what} is done.")
    return redirect("guess", work.subassembly.locomotive.slug, work.subassembly.code)
