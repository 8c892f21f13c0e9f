"""Stock-take: one place is counted by scanning what is there. Nothing is changed until it is confirmed; a record
stays."""

from collections.abc import Sequence
from urllib.parse import urlencode

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.log.writing import written

from ..common.shortcuts import say, say_done, status_in, status_of
from ..domain.plain import capital, several
from ..domain.stocktaking import Outcome, mark_of
from ..models import Component, Location, Photo, StockTake, Tag
from ..put_away.views import place_meant
from ..stores.forms import CrateForm, GiveUpForm
from ..tags.typed_tags import Named
from ..tags.views import tags_sent
from . import writers

KEY = "counting"
A_PAGE = 20
TO_COUNT = 40
CRUMBS = [{"href": "/stock-take/", "label": "Stock-take"}]


@signed_in
@require_safe
def stock_takes(request):
    return choose(request)


def choose(request, *, refusals=(), form=None):
    form = form or CrateForm()
    form.fields["into"].offer()
    page = {
        "page": "Stock-take",
        "form": form,
        "refusals": refusals,
        "open": list(StockTake.objects.open()),
        "places": Location.objects.longest_uncounted(TO_COUNT),
        "page_obj": Paginator(StockTake.objects.done(), A_PAGE).get_page(request.GET.get("page", "1")[:6]),
        "may_count": may(request.user.role_names, "stock-take"),
    }
    status = status_of(refusals) if refusals else status_in(form)
    return render(request, "parts/stock_take/stock_takes.html", page, status=status)


@who_may("stock-take")
@require_POST
def begin_stock_take(request):
    """This place, by a photo of its tag, by its name, or by the button beside it."""
    place, refusals, form = place_meant(request)
    if place is None:
        return choose(request, refusals=refusals, form=form)
    try:
        stocktake = writers.begin(place, request.user)
    except Refused as refused:
        return choose(request, refusals=refused.refusals)
    request.session[KEY] = stocktake.pk
    return redirect(stocktake)


def counting(request) -> StockTake | None:
    """The count in which this person ticked last, while it is open: what a piece's own page offers."""
    if KEY not in request.session or not may(request.user.role_names, "move"):
        return None
    stocktake = StockTake.objects.by_number(request.session[KEY])
    return stocktake if stocktake and not stocktake.closed_at else None


@signed_in
@require_safe
def stock_take(request, pk):
    stocktake = stock_take_or_404(pk)
    return redirect(stocktake) if stocktake.closed_at else show(request, stocktake)


def show(request, stocktake, *, refusals=(), meant=(), done="", give_up=None):
    lines = writers.lines_of(stocktake)
    pictures = Photo.objects.latest_of([line.piece for line in lines])
    for line in lines:
        line.picture = pictures.get(line.piece.pk, "")
    due = [line for line in lines if line.outcome is Outcome.MISSING]
    seen = sorted((line for line in lines if line.seen), key=lambda line: -line.seen.pk if line.seen else 0)
    counted = sum(line.outcome in (Outcome.SEEN, Outcome.FOUND) for line in lines)
    page = {
        "page": f"Counting {stocktake.location.name}",
        "crumbs": [*CRUMBS, {"label": stocktake.location.name}],
        "stocktake": stocktake,
        "due": due,
        "seen": seen,
        "counted": counted,
        "elsewhere": len(seen) - counted,
        "expected": len(due) + counted,
        "refusals": refusals,
        "meant": meant,
        "done": done,
        "give_up": give_up or GiveUpForm(),
        "may_see": may(request.user.role_names, "move"),
        "may_count": may(request.user.role_names, "stock-take"),
    }
    status = status_in(give_up) if give_up else status_of(refusals)
    return render(request, "parts/stock_take/stock_take.html", page, status=status)


@who_may("move")
@require_POST
def see(request, pk):
    """Seen there: by its tag, or by the button beside it where no tag can be read."""
    stocktake = stock_take_or_404(pk)
    request.session[KEY] = stocktake.pk
    by_eye = request.POST.get("piece", "") if "picture" not in request.FILES else ""
    found = Named(pieces=[piece_or_404(by_eye)]) if by_eye else tags_sent(request)
    refusals, ticked = list(found.refusals), {}
    for piece in found.pieces:
        try:
            ticked[piece] = writers.see(stocktake, piece, request.user, by_eye=bool(by_eye))
        except Refused as refused:
            refusals += refused.refusals
    sentences = _ticked_in_words(stocktake, ticked) if ticked else []
    if refusals:
        if stocktake.closed_at:
            return choose(request, refusals=refusals)
        return show(request, stocktake, refusals=refusals, meant=found.meant, done=" ".join(sentences))
    if sentences:
        messages.success(request, " ".join(sentences))
    else:
        messages.info(request, "That tag is on a place or a pattern. Count pieces here.")
    return redirect("stock_take", pk)


def _ticked_in_words(stocktake, ticked: dict[Component, bool]) -> list[str]:
    """'Reach rod: seen.' Of one that should lie somewhere else it is said at once."""
    outcomes = {line.piece.pk: line.outcome for line in writers.lines_of(stocktake)}
    sentences = []
    for piece, new in ticked.items():
        word = "" if outcomes[piece.pk] is Outcome.SEEN else f", {outcomes[piece.pk]}"
        sentences.append(f"{capital(piece.name)}: {'seen' if new else 'was seen already'}{word}.")
    return sentences


@who_may("move")
@require_POST
def see_not(request, pk):
    stocktake = stock_take_or_404(pk)
    try:
        piece = piece_or_404(request.POST.get("piece", ""))
        writers.see_not(stocktake, piece, request.user)
        messages.success(request, f"{capital(piece.name)} is no longer ticked.")
    except Refused as refused:
        return choose(request, refusals=refused.refusals)
    return redirect("stock_take", pk)


@who_may("stock-take")
@require_http_methods(["GET", "HEAD", "POST"])
def end_stock_take(request, pk):
    """What would come of it, in lists; and the button that makes it so."""
    refusals: Sequence[Refusal] = ()
    stocktake = stock_take_or_404(pk)
    if stocktake.closed_at:
        return redirect(stocktake)
    if request.method == "POST":
        wanted = set(request.POST.getlist("move"))
        lines = writers.lines_of(stocktake)
        leave = {line.piece.pk for line in lines if str(line.piece.pk) not in wanted}
        try:
            with written() as events:
                not_moved = writers.confirm(stocktake, request.user, mark=request.POST.get("mark", ""), leave=leave)
            say_done(request, "Confirmed. The record stays.", events)
            for refusal in not_moved:
                messages.warning(request, f"{refusal.sentence} {refusal.cure}")
            return redirect("stock_take_record", pk)
        except Refused as refused:
            refusals = refused.refusals
    lines = writers.lines_of(stocktake)
    by_outcome = {word: [line for line in lines if line.outcome is word] for word in Outcome}
    page = {
        "page": f"Result of counting {stocktake.location.name}",
        "crumbs": [*CRUMBS, {"href": stocktake.get_absolute_url(), "label": stocktake.location.name}],
        "stocktake": stocktake,
        "refusals": refusals,
        "mark": mark_of((line.piece.pk, line.outcome) for line in lines),
        "seen": len(by_outcome[Outcome.SEEN]),
        "missing": by_outcome[Outcome.MISSING],
        "strays": [line for line in by_outcome[Outcome.STRAY] if line.may_lie_here],
        "fitted": [line for line in by_outcome[Outcome.STRAY] if not line.may_lie_here],
        "found": by_outcome[Outcome.FOUND],
        "meanwhile": by_outcome[Outcome.MEANWHILE],
        "to_print": to_print(request, stocktake),
    }
    return render(request, "parts/stock_take/stock_take_end.html", page, status=status_of(refusals))


@who_may("stock-take")
@require_POST
def give_up_stock_take(request, pk):
    stocktake, form = stock_take_or_404(pk), GiveUpForm(request.POST)
    if stocktake.closed_at:
        return redirect("stock_takes")
    form.is_valid()
    try:
        writers.give_up(stocktake, request.user, reason=form.cleaned_data.get("reason", ""))
    except Refused as refused:
        say(refused, form)
        return show(request, stocktake, give_up=form)
    messages.success(request, f"The count of {stocktake.location.name} is given up. Nothing was changed.")
    return redirect("stock_takes")


@signed_in
@require_safe
def stock_take_record(request, pk):
    stocktake = stock_take_or_404(pk)
    if not stocktake.closed_at:
        return redirect(stocktake)
    lines = list(stocktake.lines.order_by("name", "id"))
    groups = [(word, [line for line in lines if line.outcome == word]) for word in Outcome]
    page = {
        "page": f"Record: {stocktake}",
        "crumbs": [*CRUMBS, {"label": stocktake.location.name}],
        "stocktake": stocktake,
        "to_print": to_print(request, stocktake),
        "groups": [(capital(word), several(len(found), "piece"), found) for word, found in groups if found],
    }
    return render(request, "parts/stock_take/stock_take_record.html", page)


def to_print(request, stocktake: StockTake) -> dict | None:
    """The tags of what was seen without one, and the page that prints them anew."""
    if not may(request.user.role_names, "print labels"):
        return None
    codes = Tag.objects.of_sightings(stocktake.sightings.filter(by_eye=True))
    return (
        {"many": len(codes), "href": f"{reverse('labels')}?{urlencode({'tags': ' '.join(codes)})}"} if codes else None
    )


def stock_take_or_404(pk) -> StockTake:
    found = StockTake.objects.by_number(pk)
    if found is None:
        raise Http404("No such stock-take.")
    return found


def piece_or_404(number) -> Component:
    found = Component.objects.named([number]).first() if str(number).isdecimal() else None
    if found is None:
        raise Http404("No such piece.")
    return found
