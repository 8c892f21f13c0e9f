"""One's own page: roles, what one may sign, password, PIN, card, and where one is signed in."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from core.access import signed_in
from core.accounts import credentials, devices
from core.domain.catalogue import may
from core.log import writing
from core.models import Card, SignIn
from parts.common.shortcuts import refusals_on
from parts.domain.plain import several

from ..forms import OwnPasswordForm, OwnPinForm
from ..writers import people
from .sign_in import refused_for_now


@signed_in
@sensitive_post_parameters("old", "new")
@require_http_methods(["GET", "HEAD", "POST"])
def me(request):
    form = OwnPasswordForm(request.POST or None, request=request)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            people.change_own_password(request, form.cleaned_data["new"])
            messages.success(request, "Your password is changed. Your other devices are signed out.")
            return redirect("me")
    return show(request, form=form)


@signed_in
@sensitive_post_parameters("pin-old", "pin-pin")
@require_POST
def my_pin(request):
    form = OwnPinForm(request.POST, request=request, prefix="pin")
    if form.is_valid():
        with refusals_on(form):
            credentials.set_pin(request.user, form.cleaned_data["pin"])
            messages.success(request, "Your PIN is set. It works on the shared tablets, and signs there.")
            return redirect("me")
    return show(request, pin_form=form)


@signed_in
@require_POST
def lose_card(request):
    if credentials.withdraw_card(request.user, request.user):
        messages.success(request, "Your card no longer works. Ask the works manager to print a new one.")
    return redirect("me")


@signed_in
@require_POST
def end_sign_in(request, pk):
    """Sign one device out: one's own, or anybody's from the office."""
    found = SignIn.objects.alive().by_number(pk)
    if found is None:
        raise Http404("That device is signed out already.")
    own = found.person_id == request.user.pk
    if not own and not may(request.user.role_names, "edit people"):
        raise PermissionDenied("That is the device of somebody else.")
    devices.end(SignIn.objects.with_session(found.session_key))
    messages.success(request, f"{found.browser} is signed out.")
    return redirect("me") if own else redirect("person", found.person_id)


@signed_in
@require_POST
def end_others(request):
    count = devices.end_all(request.user, but=request.session.session_key)
    messages.success(request, f"Signed out: {several(count, 'other device')}.")
    return redirect("me")


def show(request, form=None, pin_form=None):
    person = request.user
    sign_ins = list(person.sign_ins.alive())
    page = {
        "page": "Your sign-in",
        "form": form or OwnPasswordForm(request=request),
        "pin_form": pin_form or OwnPinForm(request=request, prefix="pin"),
        "card": Card.objects.of_person(person),
        "sign_ins": sign_ins,
        "here": request.session.session_key,
        "authorisations": person.authorisations.all(),
        "today": writing.today(),
    }
    bad = next((one for one in (form, pin_form) if one is not None and one.errors), None)
    answer = render(request, "workshop/accounts/me.html", page, status=422 if bad else 200)
    return refused_for_now(answer, bad.wait if bad else 0)
