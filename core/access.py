"""Every route says who may use it. A view carries its answer in `view.may_use`; a test lists those that do not."""

from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django_htmx.http import HttpResponseClientRedirect

from .accounts.signature import needs_signature, proves_at
from .domain.catalogue import may

__all__ = ["anyone", "needs_signature", "proves_at", "signed_in", "to_sign_in", "who_may"]

ANYONE, SIGNED_IN = "anyone", "signed in"


def anyone(view):
    """No sign-in is asked."""
    view.may_use = ANYONE
    return view


def to_sign_in(request):
    """The sign-in page, and from there back; where only part of a page was asked for, the whole page goes there."""
    htmx = getattr(request, "htmx", None)
    if request.headers.get("HX-Request") != "true":
        return redirect_to_login(request.get_full_path())
    return HttpResponseClientRedirect(redirect_to_login(htmx.current_url_abs_path if htmx else "/").url)


def signed_in(view):
    """Everybody who is signed in may read; what they may do is decided action by action."""

    @wraps(view)
    def guarded(request, *args, **kwargs):
        if not request.user.is_authenticated:
            return to_sign_in(request)
        return view(request, *args, **kwargs)

    return _carrying(guarded, SIGNED_IN)


def who_may(*deeds: str):
    """Only people whose roles allow one of these deeds; others are told so (403)."""

    def decorate(view):
        @wraps(view)
        def guarded(request, *args, **kwargs):
            if not request.user.is_authenticated:
                return to_sign_in(request)
            if not any(may(request.user.role_names, deed) for deed in deeds):
                raise PermissionDenied(f"Your roles do not allow “{deeds[0]}”.")
            return view(request, *args, **kwargs)

        return _carrying(guarded, deeds)

    return decorate


def _carrying(view: Any, may_use: str | tuple[str, ...]):
    view.may_use = may_use  # a function in Python may carry what its type does not know
    return view
