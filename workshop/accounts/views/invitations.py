"""Invitations of new people: made in the office, printed as a card, and used once by whoever holds it."""

import uuid

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import anyone, who_may
from core.accounts import devices, throttle
from core.domain import codes
from core.models import Invitation
from core.web.papers import pdf
from parts.common.shortcuts import refusals_on, refusals_told, status_in
from parts.labels.errors import LabelError

from .. import cards
from ..forms import InviteForm, JoinCodeForm, JoinForm
from ..writers import invitations as writers
from .sign_in import refused_for_now

INVITED = "invited"  # in the session: the hash of the code
LIST = {"href": "/people/invitations/", "label": "Invitations"}


@who_may("invite")
@require_safe
def invitations(request):
    return render(
        request,
        "workshop/accounts/invitations.html",
        {"page": "Invitations", "invitations": Invitation.objects.listed()[:100]},
    )


@who_may("invite")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def invite(request):
    """The answer to a good form is the page with the code: it is shown this once, and kept nowhere."""
    form = InviteForm(
        request.POST or None, roles=writers.roles_to_give(request.user), initial={"key": uuid.uuid4().hex}
    )
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            return made(request, *writers.invite(request.user, **form.entered()))
    page = {"page": "Invite somebody", "form": form, "crumbs": [LIST, {"label": "Invite somebody"}]}
    return render(request, "workshop/accounts/invite.html", page, status=status_in(form))


def made(request, invitation, code):
    page = {
        "page": "The invitation is made",
        "crumbs": [LIST, {"label": "The invitation is made"}],
        "invitation": invitation,
        "code": code,
        "grouped": codes.grouped(code),
        "card_sheets": list(cards.CARD_SHEETS.items()),
    }
    try:
        page["address"], page["squares"] = cards.on_screen("join", code)
    except LabelError as trouble:
        page["trouble"] = str(trouble)
    return render(request, "workshop/accounts/invited.html", page)


@who_may("invite")
@sensitive_post_parameters("code")
@require_POST
def invitation_card(request):
    """The card as PDF, while the code is still on the screen."""
    code = codes.read(request.POST.get("code", ""))
    invitation = Invitation.objects.of_code(codes.hashed(code)) if code else None
    if invitation is None or invitation.state != "waiting":
        raise Http404("No invitation with this code waits to be used.")
    try:
        return pdf(cards.invitation_card(invitation, code, cards.sheet_in(request.POST)), "invitation")
    except LabelError as trouble:
        messages.error(request, str(trouble))
        return redirect("invitations")


@who_may("invite")
@require_POST
def withdraw_invitation(request, pk):
    invitation = Invitation.objects.listed().by_number(pk)
    if invitation is None:
        raise Http404("No such invitation.")
    with refusals_told(request):
        writers.withdraw(invitation, request.user)
        messages.success(request, f"The invitation of {invitation} is withdrawn: its card opens nothing.")
    return redirect("invitations")


@anyone
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def join_by_hand(request):
    """The code typed in, where the camera does not read the card."""
    form = JoinCodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        return redirect("join", form.cleaned_data["code"])
    page = {"page": "Join with an invitation", "form": form}
    return render(request, "workshop/accounts/join_code.html", page, status=status_in(form))


@anyone
@never_cache
@require_safe
def join(request, code):
    """What an invitation's QR code opens. The code is taken out of the address at once, lest the list of visited pages
    keep it; nothing is used up by that."""
    try:
        invitation = invitation_of(request, code)
    except throttle.TooSoon as wait:
        return refused_for_now(over(request, str(wait), 429), wait.seconds)
    if invitation is None:
        return over(request, "No invitation has this code. Look at the card again.", 404)
    if invitation.state != "waiting":
        return no_longer(request, invitation)
    request.session[INVITED] = invitation.code_hash
    return redirect("joining")


@anyone
@never_cache
@sensitive_post_parameters("password", "pin")
@require_http_methods(["GET", "HEAD", "POST"])
def joining(request):
    """Name, sign-in name, and a password or a PIN of whoever has opened an invitation on this device."""
    invitation = Invitation.objects.of_code(request.session.get(INVITED, ""))
    if invitation is None:
        return redirect("join_by_hand")
    if invitation.state != "waiting":
        return no_longer(request, invitation)
    form = JoinForm(request.POST or None, initial={"name": invitation.name})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            person = writers.join(invitation, **form.cleaned_data)
            devices.sign_in(request, person)
            messages.success(request, f"Welcome, {person}. You sign in as {person.username}.")
            return redirect("home")
    page = {"page": "Join", "form": form, "invitation": invitation, "action": reverse("joining")}
    return render(request, "workshop/accounts/join.html", page, status=status_in(form))


def no_longer(request, invitation: Invitation):
    return over(request, f"{writers.WHY_NOT[invitation.state]} Ask whoever gave it to you for a new one.", 410)


def invitation_of(request, code: str) -> Invitation | None:
    code = codes.read(code)
    asks = throttle.by_code(devices.address_of(request))
    throttle.begin(asks)
    found = Invitation.objects.of_code(codes.hashed(code)) if code else None
    if found:
        throttle.right(asks)
    return found


def over(request, sentence: str, status: int):
    return render(
        request, "workshop/accounts/join_over.html", {"page": "Not this invitation", "says": sentence}, status=status
    )
