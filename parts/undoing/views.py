"""Undo: by the button in the bar that says it was done, or from the list of what one did in the last ten minutes."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refusal, Refused
from parts.actions import undo as undoing
from parts.common.shortcuts import status_of
from parts.domain.plain import listed

from .queries import latest

MOST = 200
NAMED = 12


@who_may("undo")
@require_http_methods(["GET", "HEAD", "POST"])
def undo(request):
    """POST `acts`: the numbers of what is to be undone, each by itself: one that cannot keeps none of the others."""
    if request.method != "POST":
        return show(request)
    done, refusals = undo_each(numbers_or_404(request), request.user)
    if done:
        more = f" and {len(done) - NAMED} more" if len(done) > NAMED else ""
        messages.success(request, f"Undone: {listed(done[:NAMED])}{more}.")
    if refusals:
        return show(request, refusals=refusals)
    back = request.POST.get("back", "")
    return redirect(back if url_has_allowed_host_and_scheme(back, allowed_hosts=None) else "undo")


def numbers_or_404(request) -> list[int]:
    acts = request.POST.get("acts", "").split()[:MOST]
    if not acts or not all(number.isascii() and number.isdecimal() and len(number) < 19 for number in acts):
        raise Http404("Nothing to undo was named.")
    return [int(number) for number in acts]


def undo_each(acts: list[int], actor) -> tuple[list[str], list[Refusal]]:
    """The latest first: what was done to one piece in two steps is undone in two."""
    done: list[str] = []
    refusals: list[Refusal] = []
    for act in sorted(acts, reverse=True):
        try:
            done += undoing.undo(act, actor)
        except Refused as refused:
            refusals += refused.refusals
    return list(dict.fromkeys(done)), list(dict.fromkeys(refusals))


def show(request, *, refusals=()):
    page = {"page": "Undo what you just did", "acts": latest(request.user), "refusals": refusals}
    return render(request, "parts/undoing/undo.html", page, status=status_of(refusals))
