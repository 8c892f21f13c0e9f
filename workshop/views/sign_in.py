"""Signing in and signing out."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login, logout
from django.contrib.auth.forms import AuthenticationForm
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from workshop import demo
from workshop.access import anyone


class SignInForm(AuthenticationForm):
    """Name and password, refused in words that say what to do about it."""

    error_messages = {
        "invalid_login": "Nobody signs in with this name and this password. Capitals count. "
        "If you have forgotten the password, ask the works manager for a new one.",
        "inactive": "This person no longer signs in here. Ask the works manager.",
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Sign-in name"
        self.fields["username"].error_messages["required"] = "Enter the name you sign in with."
        self.fields["password"].error_messages["required"] = "Enter your password."
        # the keyboard of a phone would cover half the page before anyone has read it
        self.fields["username"].widget.attrs.pop("autofocus", None)


@anyone
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request):
    """Ask for name and password; go on to where the person was going."""
    onward = safe_onward(request)
    sent = request.method == "POST"
    if request.user.is_authenticated and not sent:
        return redirect(onward)
    form = SignInForm(request, request.POST if sent else None)
    if sent and form.is_valid():
        login(request, form.get_user())
        return redirect(onward)
    seen = {
        "page": "Sign in",
        "form": form,
        "next": onward,
        "demo_sign_ins": demo.sign_ins() if settings.DEMO else [],
    }
    return render(request, "workshop/sign_in.html", seen, status=422 if sent else 200)


@anyone
@require_POST
def sign_out(request):
    logout(request)
    messages.info(request, "You are signed out.")
    return redirect(settings.LOGIN_URL)


def safe_onward(request) -> str:
    """Where to go after signing in: an address on this site, else the first page."""
    onward = request.POST.get("next") or request.GET.get("next") or ""
    safe = url_has_allowed_host_and_scheme(
        onward, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return onward if safe else settings.LOGIN_REDIRECT_URL
