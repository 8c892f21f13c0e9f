"""Many pieces at once, in two steps: tick them in the list, then say where they go, or fill in once the form of what
was done to all of them. Any page may also send what is ticked on it straight here, as many `piece` values."""

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
from parts.common.shortcuts import remember_crate, say_done, status_in, status_of
from parts.domain.cautions import before, caution_of_cleaning
from parts.domain.grouping import AUTHORISED
from parts.domain.plain import capital, listed, several
from parts.domain.states import for_many
from parts.models import Component, Location
from parts.stores.forms import MoveForm

from ..selection import Offer, chosen, offer, ticked
from ..writers.together import act_on_each, move_each

BESIDE = {"move": "move", "tags": "print labels", "group": AUTHORISED, "kit": "collect kit"}
"""What may be done to many at once beside actions on each of them, and the action that a role must allow for it."""
FEW = 3
"""So many pieces are named in what is said afterwards."""


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def bulk(request):
    if request.method != "POST":
        return choose(request)
    asked, pieces = request.POST.get("do", ""), chosen(request.POST)
    actions = {action.word: action for action in for_many()}
    if asked not in {"move", "tags", *actions}:
        return choose(request, refusals=[Refusal("do", "Nothing was asked for.", "Press one of the buttons.")])
    word = BESIDE.get(asked, asked)
    if not may(request.user.role_names, word):
        others = listed(who_may(word))
        return choose(request, refusals=[Refusal("role", "Your roles do not allow that.", f"It is for: {others}.")])
    if not pieces:
        return choose(request, refusals=[Refusal("pieces", "No piece was ticked.", "Tick those that are meant.")])
    if asked in actions:
        return act(request, actions[asked], pieces)
    return {"move": move, "tags": tags}[asked](request, pieces)


def choose(request, *, refusals=()):
    """The list with a tick at each piece."""
    shown = offer_or_404(request)
    allowed = {name: may(request.user.role_names, word) for name, word in BESIDE.items()}
    actions = [action for action in for_many() if may(request.user.role_names, action.word)]
    page = {
        "page": f"Choose several: {shown.heading}",
        "offer": shown,
        "rows": shown.rows(),
        "refusals": refusals,
        "ticked": set(request.POST.values()),
        "actions": actions,
        "main": next((action.word for action in actions if action.word == request.GET.get("need")), "move"),
        "may": allowed,
        "may_any": actions or any(allowed.values()),
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
        return where_to(request, pieces, MoveForm())
    form = MoveForm(entered)
    if not form.is_valid():
        return where_to(request, pieces, form)
    entered = form.cleaned_data
    with written() as events:
        outcome = move_each(pieces, entered["to"], request.user, promised_back=entered["promised"])
    if outcome.done:
        remember_crate(request, entered["to"])
    lies = "lies" if len(outcome.done) == 1 else "lie"
    sentence = f"now {lies} in {entered['to']}."
    return told(request, outcome, sentence, events) or where_to(request, left(outcome), form, outcome)


def act(request, action, pieces):
    """One form for all of them; those that are left after it keep what was entered."""
    entered = request.POST if action.form.base_fields.keys() & request.POST.keys() else None
    form = action.form(entered, component=pieces[0][0], actor=request.user)
    if entered is None or not form.is_valid():
        return how(request, action, pieces, form)
    given = form.given()
    if getattr(form, "one_tap", ()) and not given.method:
        form.add_error("method", "Press one of the ways, or write another.")
        return how(request, action, pieces, form)
    with written() as events:
        outcome = act_on_each(action, pieces, given, request.user)
    sentence = f"{action.done.lower()}: {given.method}." if given.method else f"{action.done.lower()}."
    return told(request, outcome, sentence, events) or how(request, action, left(outcome), form, outcome)


def tags(request, pieces):
    codes = [piece.code for piece, _ in pieces if piece.code]
    return redirect(f"{reverse('labels')}?{urlencode({'tags': ' '.join(codes)})}")


def told(request, outcome, sentence, events):
    """Says for how many; all done: back to the list."""
    if outcome.done:
        say_done(request, format_html("{} {}", which(outcome), sentence), events)
    return None if outcome.refused else redirect(back(request))


def left(outcome):
    return [(piece, piece.last_event) for piece in Component.objects.again([piece for piece, _ in outcome.refused])]


def which(outcome) -> str:
    """By name, with the way to each, where they are few."""
    if len(outcome.done) > FEW or not all(piece.code for piece in outcome.done):
        return outcome.count()
    links = [
        format_html('<a href="{}">{} {}</a>', reverse("tag", args=[piece.code]), capital(piece.called), piece.code)
        for piece in outcome.done
    ]
    return mark_safe(listed(links))


def where_to(request, pieces, form, outcome=None):
    form.fields["to"].offer()
    recent = [place for place in Location.objects.last_used_by(request.user) if not place.locomotive_id]
    page = {"asked": "move", "heading": "Where do they go?", "button": "Save place", "recent": recent}
    return second(request, "Move", pieces, form, outcome, page)


def how(request, action, pieces, form, outcome=None):
    one_tap = [(method, caution_of_cleaning(method)) for method in getattr(form, "one_tap", ())]
    page = {"asked": action.word, "heading": action.for_many, "button": action.for_many, "one_tap": one_tap}
    return second(request, action.for_many, pieces, form, outcome, page)


def second(request, words: str, pieces, form, outcome, page):
    """Where to, or how: the pieces that were ticked go along."""
    names = [capital(piece.called) for piece, _ in pieces]
    at_buttons = " ".join(caution for _, caution in page.get("one_tap", ()))
    refusals = outcome.reasons() if outcome else ()
    page |= {
        "page": f"{words}: {several(len(pieces), 'piece')}",
        "words": words,
        "pieces": [ticked(piece) if seen is None else f"{piece.pk}.{seen}" for piece, seen in pieces],
        "names": listed(names[:12]) + (f" and {len(names) - 12} more" if len(names) > 12 else ""),
        "count": several(len(pieces), "piece"),
        "form": form,
        "cautions": [text for text in before(page["asked"], None, None) if text not in at_buttons],
        "refusals": refusals,
        "done": outcome and outcome.done,
        "back": back(request),
        "query": request.GET.urlencode(),
    }
    status = status_of(refusals) if refusals else status_in(form)
    return render(request, "parts/pieces/bulk_how.html", page, status=status)


def back(request) -> str:
    """The page that the list stands on."""
    asked = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(asked, allowed_hosts=None):
        return asked
    return offer_or_404(request).back
