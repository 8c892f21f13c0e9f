"""Many pieces at once, in two steps: tick them in the list, then say where they go, or how they were cleaned. Any page
may also send what is ticked on it straight here, as many `piece` values."""

from urllib.parse import urlencode

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.html import format_html
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_http_methods

from core.access import signed_in
from core.domain.catalogue import may, who_may
from core.domain.refusals import Refusal
from core.log.writing import written
from parts.actions.clean import METHODS
from parts.common.shortcuts import remember_crate, say_done, status_in, status_of
from parts.domain.cautions import before, caution_of_cleaning
from parts.domain.grouping import AUTHORISED
from parts.domain.plain import capital, listed, several
from parts.domain.words import Need
from parts.models import Component, Location
from parts.stores.forms import MoveForm

from ..selection import Offer, chosen, offer, ticked
from ..writers.together import clean_each, move_each

DEEDS = {"move": "move", "clean": "clean", "tags": "print labels"}
"""What may be done to many at once, and the deed that a role must allow for it."""
BESIDE = {"group": AUTHORISED, "kit": "collect kit"}
"""What has a page of its own."""
FEW = 3
"""So many pieces are named in what is said afterwards."""


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def bulk(request):
    if request.method != "POST":
        return choose(request)
    deed, pieces = request.POST.get("do", ""), chosen(request.POST)
    if deed not in DEEDS:
        return choose(request, refusals=[Refusal("do", "Nothing was asked for.", "Press one of the buttons.")])
    if not may(request.user.role_names, DEEDS[deed]):
        others = listed(who_may(DEEDS[deed]))
        return choose(request, refusals=[Refusal("role", "Your roles do not allow that.", f"It is for: {others}.")])
    if not pieces:
        return choose(request, refusals=[Refusal("pieces", "No piece was ticked.", "Tick those that are meant.")])
    return {"move": move, "clean": clean, "tags": tags}[deed](request, pieces)


def choose(request, *, refusals=()):
    """The list with a tick at each piece."""
    shown = offer_or_404(request)
    allowed = {name: may(request.user.role_names, deed) for name, deed in (DEEDS | BESIDE).items()}
    page = {
        "page": f"Choose several: {shown.heading}",
        "offer": shown,
        "rows": shown.rows(),
        "refusals": refusals,
        "ticked": set(request.POST.values()),
        "to_clean": request.GET.get("need") == Need.CLEAN,
        "may": allowed,
        "may_any": any(allowed.values()),
    }
    return render(request, "parts/pieces/bulk.html", page, status=status_of(refusals))


def offer_or_404(request) -> Offer:
    shown = offer(request.GET)
    if shown is None:
        raise Http404("There is no such crate or subassembly.")
    return shown


def move(request, pieces):
    entered = request.POST.dict()
    if place := Location.objects.in_use().by_number(entered.get("place")):
        entered["to"] = place.path
    if "to" not in entered:
        return second(request, "move", pieces, form=MoveForm())
    form = MoveForm(entered)
    if not form.is_valid():
        return second(request, "move", pieces, form=form)
    entered = form.cleaned_data
    with written() as events:
        outcome = move_each(pieces, entered["to"], request.user, promised_back=entered["promised"])
    if outcome.done:
        remember_crate(request, entered["to"])
    lies = "lies" if len(outcome.done) == 1 else "lie"
    return told(request, "move", outcome, f"now {lies} in {entered['to']}.", events, form)


def clean(request, pieces):
    method = (request.POST.get("method_other") or request.POST.get("method", "")).strip()[:60]
    if not method:
        asked = "method" in request.POST or "method_other" in request.POST
        wrong = [Refusal("method", "How: choose one.", "Press one of the ways, or write another.")]
        return second(request, "clean", pieces, refusals=wrong if asked else ())
    with written() as events:
        outcome = clean_each(pieces, method, request.user)
    return told(request, "clean", outcome, f"marked cleaned: {method}.", events)


def tags(request, pieces):
    codes = [piece.code for piece, _ in pieces if piece.code]
    return redirect(f"{reverse('labels')}?{urlencode({'tags': ' '.join(codes)})}")


def told(request, deed, outcome, sentence, events, form=None):
    """All done: back to the list. Otherwise those that could not, with why, and how many could."""
    if outcome.done:
        say_done(request, format_html("{} {}", which(outcome), sentence), events)
    if not outcome.refused:
        return redirect(back(request))
    left = [(piece, piece.last_event) for piece in Component.objects.again([piece for piece, _ in outcome.refused])]
    return second(request, deed, left, form=form, refusals=outcome.reasons(), done=bool(outcome.done))


def which(outcome) -> str:
    """By name, with the way to each, where they are few."""
    if len(outcome.done) > FEW or not all(piece.code for piece in outcome.done):
        return outcome.count()
    links = [
        format_html('<a href="{}">{} {}</a>', reverse("tag", args=[piece.code]), capital(piece.name), piece.code)
        for piece in outcome.done
    ]
    return mark_safe(listed(links))


def second(request, deed, pieces, *, form=None, refusals=(), done=False):
    """Where to, or how: the pieces that were ticked go along."""
    if form:
        form.fields["to"].offer()
    names = [capital(piece.name) for piece, _ in pieces]
    methods = [(method, caution_of_cleaning(method)) for method in METHODS] if deed == "clean" else []
    of_a_way = " ".join(caution for _, caution in methods)  # each stands at its button
    page = {
        "page": f"{'Move' if deed == 'move' else 'Mark cleaned'}: {several(len(pieces), 'piece')}",
        "deed": deed,
        "pieces": [ticked(piece) if seen is None else f"{piece.pk}.{seen}" for piece, seen in pieces],
        "names": listed(names[:12]) + (f" and {len(names) - 12} more" if len(names) > 12 else ""),
        "count": several(len(pieces), "piece"),
        "form": form,
        "methods": methods,
        "cautions": [text for text in before(deed, None, None) if text not in of_a_way],
        "recent": [place for place in Location.objects.last_used_by(request.user) if not place.locomotive_id],
        "refusals": refusals,
        "done": done,
        "back": back(request),
        "query": request.GET.urlencode(),
    }
    status = status_in(form) if form and not refusals else status_of(refusals)
    return render(request, "parts/pieces/bulk_how.html", page, status=status)


def back(request) -> str:
    """The page that the list stands on."""
    asked = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(asked, allowed_hosts=None):
        return asked
    return offer_or_404(request).back
