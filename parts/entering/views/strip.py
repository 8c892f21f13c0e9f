"""A piece comes off, a second-hand one comes in, or a new one is begun: how a piece enters the register."""

from datetime import timedelta

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import may
from parts.common.locators import locator_of
from parts.common.shortcuts import position_or_404, refusals_on, remember_crate, remembered_crate, status_in, words_in
from parts.common.tagged import tagged
from parts.domain.cautions import before
from parts.domain.near_words import nearest
from parts.domain.tagcodes import grouped, is_code
from parts.domain.words import Side
from parts.models import Position, Subassembly
from parts.photos.beside_form import keep_photos
from parts.queries.loading import bare_place

from ..forms import Begin, ComeIn, ComeOff
from ..writers import pieces

OFFERED = 60
SUBASSEMBLY, SINCE = "stripping", "stripping since"
A_SHIFT = timedelta(hours=4)


@who_may("strip")
@require_http_methods(["GET", "HEAD", "POST"])
def strip(request):
    """First the place, by subassembly, word and handing; then the piece."""
    asked = request.GET
    if asked.get("position"):
        return come_off(request, position_or_404(number(asked["position"], "position")))
    if asked.get("loose"):
        return come_in(request)
    if request.method == "POST":
        raise Http404("Choose the place first.")
    return choose(request)


@who_may("start on")
@require_http_methods(["GET", "HEAD", "POST"])
def start_on(request, pk):
    """A new piece for a place is begun: from now on its casting or plate has a tag."""
    place = position_or_404(pk)
    form = Begin(request.POST or None, initial=filled(request, place), place=place)
    heading = "A new piece is begun"
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form):
            piece = pieces.start_on(
                request.user, place=place, name=entered["name"], code=entered["code"], location=entered["location"],
                quantity=entered["quantity"], promised=entered["promised"], **form.described(),
            )  # fmt: skip
            return after_entering(request, piece, entered, "Begun")
    return show(request, form, heading, place, status_in(form), "start on")


def come_off(request, place: Position):
    form = ComeOff(request.POST or None, initial=filled(request, place), place=place)
    return enter(request, form, "A piece comes off", place, place.locomotive)


def come_in(request):
    form = ComeIn(request.POST or None, initial=filled(request, None))
    return enter(request, form, "A piece without a place yet", None, None)


def enter(request, form, heading, place, locomotive):
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form):
            piece = pieces.strip_new(
                request.user, locomotive=locomotive or entered.get("locomotive"), name=entered["name"], place=place,
                code=entered["code"], location=entered["location"], quantity=entered["quantity"], **form.described(),
            )  # fmt: skip
            if place:
                remember(request, place)
            return after_entering(request, piece, entered, "Entered")
    return show(request, form, heading, place, status_in(form))


def after_entering(request, piece, entered, done):
    remember_crate(request, entered["location"])
    kept, code = keep_photos(request, piece), piece.tags.current_code()
    sentence = tagged(done, code, entered["code"])
    messages.success(request, f"{sentence} {'Its photo is kept.' if kept else 'Next: take a photo of it.'}")
    return redirect("tag", code)


def remember(request, place: Position) -> None:
    """The subassembly that is being stripped, so that the next tag is one scan; a while later nobody is."""
    request.session[SUBASSEMBLY] = place.subassembly_id
    request.session[SINCE] = timezone.now().isoformat()


def is_stripping(request) -> bool:
    """Did this person take something off the same subassembly within the last hours?"""
    since = parse_datetime(request.session.get(SINCE, "")) if request.session.get(SUBASSEMBLY) else None
    return since is not None and timezone.now() - since < A_SHIFT


def filled(request, place) -> dict:
    """What a form starts with: the place's own words, the tag that was scanned, the crate of the piece before."""
    return {
        "name": place.name if place else "",
        "quantity": place.quantity if place else 1,
        "code": words_in(request, "code")[:40],
        "location": remembered_crate(request),
    }


def show(request, form, heading, place, status, word="strip"):
    page = {
        "page": f"{heading}: {place.words}" if place else heading,
        "heading": heading,
        "form": form,
        "place": place,
        "here": locator_of(place),
        "may_strip": may(request.user.role_names, "strip"),
        "cautions": before(word, place and bare_place(place), None),
    }
    return render(request, "parts/entering/strip_form.html", page, status=status)


def choose(request):
    """Which place it comes off: the subassembly of the piece before is remembered."""
    asked = request.GET
    subassembly = chosen_subassembly(request)
    side = asked.get("side") if asked.get("side") in (Side.LH, Side.RH) else ""
    words, code = words_in(request, "q"), words_in(request, "code")[:40]
    found, meant = [], ""
    if subassembly or words:
        found = list(Position.objects.to_strip(subassembly, words, side)[: OFFERED + 1])
    if words and not found and (meant := near(words)):
        found = list(Position.objects.to_strip(subassembly, meant, side)[: OFFERED + 1])
    page = {
        "page": "A piece comes off",
        "code": code,
        "tag": grouped(code) if len(code) == 8 else code,
        "known_tag": is_code(code),
        "subassembly": subassembly,
        "subassemblies": Subassembly.objects.by_locomotive(),
        "q": words,
        "meant": meant if found else "",
        "side": side,
        "sides": ("", Side.LH.value, Side.RH.value),
        "places": [place for place in found[:OFFERED] if not place.gone],
        "empty": [place for place in found[:OFFERED] if place.gone],
        "more": len(found) > OFFERED,
        "asked": bool(subassembly or words),
    }
    return render(request, "parts/entering/strip.html", page)


def near(words: str) -> str:
    """What a mistyped word may have been meant as; nothing if none was."""
    known = Position.objects.words_in_use()
    meant = [
        word if any(one.startswith(word) for one in known) else next(iter(nearest(word, known)), word)
        for word in words.lower().split()
    ]
    return " ".join(meant) if meant != words.lower().split() else ""


def chosen_subassembly(request) -> Subassembly | None:
    asked = request.GET.get("subassembly")
    if asked is None:
        asked = request.session.get(SUBASSEMBLY)
    if not asked:
        request.session.pop(SUBASSEMBLY, None)
        return None
    chosen = Subassembly.objects.by_number(asked)
    if chosen and request.session.get(SUBASSEMBLY) != chosen.pk:
        request.session[SUBASSEMBLY] = chosen.pk
    return chosen


def number(text: str, what: str) -> int:
    if not text.isdecimal() or len(text) > 15:
        raise Http404(f"“{text[:40]}” is no number of a {what}.")
    return int(text)
