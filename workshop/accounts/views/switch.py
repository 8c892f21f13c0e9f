"""A shared tablet: whose turn it is, in two taps and a PIN, or with a printed card."""

from django.conf import settings
from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from core.access import anyone
from core.accounts import credentials, devices, throttle
from core.domain import codes
from core.models import Card, Person

from ..forms import CardForm, PinForm
from .sign_in import refused_for_now, safe_onward

SCANNED = "scanned_card"


@anyone
@never_cache
@require_safe
def switch(request):
    """The people of this tablet, as large tiles."""
    tablet = devices.tablet_of(request)
    if tablet is None:
        return redirect(settings.LOGIN_URL)
    page = {"page": "Who is there?", "tablet": tablet, "people": tablet.people(), "next": onward_or_nothing(request)}
    answer = render(request, "workshop/accounts/switch.html", page)
    devices.keep_cookie(answer, request.COOKIES[settings.TABLET_COOKIE_NAME])
    return answer


@anyone
@never_cache
@sensitive_post_parameters("proof")
@require_http_methods(["GET", "HEAD", "POST"])
def switch_to(request, pk):
    """The PIN of one of them; the password does as well."""
    tablet = devices.tablet_of(request)
    if tablet is None:
        return redirect(settings.LOGIN_URL)
    person = person_of(tablet, pk)
    by_password = not person.pin or "password" in request.GET
    form = PinForm(request.POST or None, person=person, by_password=by_password)
    wait = 0
    if request.method == "POST" and form.is_valid():
        try:
            if credentials.proves(person, form.cleaned_data["proof"], tablet.place):
                return go_on(request, person)
            form.add_error("proof", form.wrong)
        except throttle.TooSoon as trouble:
            form.add_error("proof", f"{trouble} Your card still works.")
            wait = trouble.seconds
    page = {
        "page": str(person),
        "tablet": tablet,
        "person": person,
        "form": form,
        "by_password": by_password,
        "next": onward_or_nothing(request),
    }
    status = 422 if form.errors else 200
    return refused_for_now(render(request, "workshop/accounts/switch_to.html", page, status=status), wait)


@anyone
@never_cache
@require_safe
def card_scanned(request, code):
    """What a card's QR code opens. The secret is taken out of the address at once, lest the tablet's list of visited
    pages keep it; nobody is signed in yet."""
    if devices.tablet_of(request) is None:
        return redirect("by_card")
    request.session[SCANNED] = codes.hashed(codes.read(code))
    return redirect("by_card")


@anyone
@never_cache
@sensitive_post_parameters("code")
@require_http_methods(["GET", "HEAD", "POST"])
def by_card(request):
    """Sign in with a card: the one that was just scanned, or its code typed in."""
    tablet = devices.tablet_of(request)
    if tablet is None:
        return render(request, "workshop/accounts/card_elsewhere.html", {"page": "A sign-in card"}, status=403)
    form = CardForm(request.POST or None)
    scanned, wait = request.session.get(SCANNED, ""), 0
    typed = request.method == "POST" and "code" in request.POST
    try:
        if typed and form.is_valid():
            card = look_up(request, codes.hashed(form.cleaned_data["code"]))
            if card:
                return go_on(request, card.person)
            form.add_error("code", "No card here has this code. A new card ends the one before it.")
        card = look_up(request, scanned) if scanned and not typed else None
        if card and request.method == "POST":
            return go_on(request, card.person)
    except throttle.TooSoon as trouble:
        card, wait = None, trouble.seconds
        form.is_bound = True
        form.add_error("code", str(trouble))
    if scanned and not card:
        request.session.pop(SCANNED)
    page = {
        "page": "Sign in with a card",
        "tablet": tablet,
        "card": card if not typed else None,
        "void": bool(scanned) and not card and not typed and not wait,
        "form": form,
        "next": onward_or_nothing(request),
    }
    bad = form.errors or page["void"]
    return refused_for_now(render(request, "workshop/accounts/by_card.html", page, status=422 if bad else 200), wait)


def look_up(request, code_hash: str) -> Card | None:
    """A wrong code is counted, a right one is not: 80 bits are not guessed, but nobody need try in earnest."""
    asks = throttle.by_code(devices.address_of(request))
    throttle.begin(asks)
    card = Card.objects.of_code(code_hash)
    if card:
        throttle.right(asks)
    return card


def go_on(request, person):
    """That person is signed in now, whoever was before, and goes on to the page that was open."""
    devices.sign_in(request, person)
    messages.success(request, f"You are {person}.")
    if not person.pin:
        messages.info(request, "Set a PIN under More, Your sign-in: it is quicker here than a password.")
    return redirect(safe_onward(request))


def person_of(tablet, pk: int) -> Person:
    person = next((person for person in tablet.people() if person.pk == pk), None)
    if person is None:
        raise Http404("Nobody of that number uses this tablet. Choose “Somebody else”.")
    return person


def onward_or_nothing(request) -> str:
    onward = safe_onward(request)
    return "" if onward == settings.LOGIN_REDIRECT_URL else onward
