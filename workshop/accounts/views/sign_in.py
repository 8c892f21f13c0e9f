"""Signing in and signing out."""

import logging
from urllib.parse import urlencode

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.forms import AuthenticationForm
from django.forms import ValidationError
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from core.access import anyone
from core.accounts import credentials, devices, throttle
from core.models import Person
from core.web.widgets import SecretInput
from workshop.serving import demo

log = logging.getLogger(__name__)


class SignInForm(AuthenticationForm):
    """Name and password, refused in words that say what to do about it. On a shared tablet a PIN does as well."""

    error_messages = {
        "invalid_login": "Nobody signs in with this name and this password. Capitals count. "
        "If you have forgotten the password, ask the works manager for a new one.",
        "inactive": "This person no longer signs in here. Ask the works manager.",
    }
    wait = 0

    def __init__(self, request, data):
        super().__init__(request, data)
        self.tablet = devices.tablet_of(request)
        self.fields["username"].label = "Sign-in name"
        self.fields["username"].error_messages["required"] = "Enter the name you sign in with."
        self.fields["password"].error_messages["required"] = "Enter your password."
        if self.tablet:
            self.fields["password"].label = "Password or PIN"
            self.fields["password"].widget = SecretInput()
            self.fields["username"].widget.attrs["autocomplete"] = "off"
        # the keyboard of a phone would cover half the page before anyone has read it
        self.fields["username"].widget.attrs.pop("autofocus", None)

    def clean(self):
        name, typed = self.cleaned_data.get("username"), self.cleaned_data.get("password")
        if not (name and typed):
            return self.cleaned_data
        asks = throttle.by_name(name, devices.address_of(self.request))
        try:
            throttle.begin(asks)
            entered = self._on_tablet(name, typed) if self.tablet else super().clean()
        except throttle.TooSoon as wait:
            self.wait = wait.seconds
            raise ValidationError(str(wait)) from None
        throttle.right(asks)
        return entered

    def _on_tablet(self, name: str, typed: str):
        person, tablet = Person.objects.who_signs_in(name), self.tablet
        if person is None or tablet is None or not credentials.proves(person, typed, tablet.place):
            raise self.get_invalid_login_error()
        self.user_cache = person
        return self.cleaned_data


@anyone
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request):
    """Ask for name and password; go on to where the person was going. On a shared tablet the tiles come first."""
    onward = safe_onward(request)
    sent = request.method == "POST"
    tablet = devices.tablet_of(request)
    if request.user.is_authenticated and not sent and not (tablet and "other" in request.GET):
        return redirect(onward)
    if tablet and not sent and "other" not in request.GET:
        return redirect(to_tiles(onward))
    if sent and devices.hidden_by_the_proxy(request):
        log.warning("The reverse proxy sends no X-Forwarded-For: one guesser makes everybody wait. See docs/shed.md.")
    form = SignInForm(request, request.POST if sent else None)
    if sent and form.is_valid():
        devices.sign_in(request, form.get_user())
        return redirect(onward)
    seen = {
        "page": "Sign in",
        "form": form,
        "next": onward,
        "tablet": tablet,
        "demo_sign_ins": demo.sign_ins() if settings.DEMO else [],
    }
    return refused_for_now(
        render(request, "workshop/accounts/sign_in.html", seen, status=422 if sent else 200), form.wait
    )


@anyone
@require_POST
def sign_out(request):
    """The browser forgets the pages it kept (OWASP ASVS 5.0, 14.3.1), never what waits to be sent from a phone: that
    lies in its storage, which "cache" leaves alone (W3C, Clear Site Data, 3.1)."""
    logout(request)
    if devices.tablet_of(request):
        answer = redirect("switch")
    else:
        messages.info(request, "You are signed out.")
        answer = redirect(settings.LOGIN_URL)
    answer.headers["Clear-Site-Data"] = '"cache"'
    return answer


def refused_for_now(response, wait: int):
    """Too many tries, in the words of HTTP: RFC 6585, section 4."""
    if wait:
        response.status_code = 429
        response.headers["Retry-After"] = str(wait)
    return response


def to_tiles(onward: str) -> str:
    address = reverse("switch")
    return address if onward == settings.LOGIN_REDIRECT_URL else f"{address}?{urlencode({'next': onward})}"


def safe_onward(request) -> str:
    """Where to go after signing in: an address on this site, from its root, else the first page."""
    onward = request.POST.get("next") or request.GET.get("next") or ""
    safe = url_has_allowed_host_and_scheme(
        onward, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return onward if safe and onward.startswith("/") else settings.LOGIN_REDIRECT_URL
