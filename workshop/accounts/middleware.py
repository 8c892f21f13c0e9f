"""How long somebody stays signed in: a week of use on a device of their own, not past a pause on a tablet that many
share."""

from django.conf import settings
from django.contrib.auth import logout
from django.utils import timezone

from core.access import to_sign_in
from core.accounts.devices import address_of, browser_of, tablet_of
from core.models import SignIn, Tablet

from ..middleware import is_page

IDLE_S = 20 * 60  # then the tablet asks again who is there
NOTE_EVERY_S = 60 * 60
NOTE_ON_TABLET_EVERY_S = 5 * 60


def keep_the_session_a_week(get_response):
    """Begin the session's week anew while it is used: one write an hour, not one a page.

    On a shared tablet nobody stays for so long: one left alone asks again who is there, and a session that was begun on
    a tablet counts nowhere else. Its pages are not kept, so that going back does not show those of the person before.
    """

    def middleware(request):
        is_shared = settings.TABLET_COOKIE_NAME in request.COOKIES
        if request.user.is_authenticated:
            if (is_shared or "tablet" in request.session) and not _is_of_this_tablet(request):
                logout(request)
            elif _is_idle(request):
                logout(request)
                return to_sign_in(request)
            else:
                _note_use(request)
        response = get_response(request)
        if is_shared and is_page(response):
            response.headers.setdefault("Cache-Control", "no-store, private")
        return response

    return middleware


def _is_of_this_tablet(request) -> bool:
    """Does the session belong to the shared tablet it comes from, or both to none?"""
    tablet = tablet_of(request)
    return request.session.get("tablet") == (tablet.pk if tablet else None)


def _is_in_the_background(request) -> bool:
    """A picture, or something that a script asks for: no sign that anybody is there."""
    accept = request.headers.get("Accept", "")
    return bool(accept) and "text/html" not in accept and request.headers.get("HX-Request") != "true"


def _is_idle(request) -> bool:
    """On a shared tablet only, and only where nothing has been sent: a form on the screen is its owner's to send."""
    if "tablet" not in request.session or request.method not in ("GET", "HEAD") or _is_in_the_background(request):
        return False
    return _now() - request.session.get("used_at", _now()) > IDLE_S


def _note_use(request) -> None:
    """Now and then write down that the device is in use, which also begins the session's week anew."""
    every = NOTE_ON_TABLET_EVERY_S if "tablet" in request.session else NOTE_EVERY_S
    if abs(_now() - request.session.get("used_at", 0)) < every or _is_in_the_background(request):
        return
    request.session["used_at"] = _now()
    tablet, now = tablet_of(request), timezone.now()
    seen = {"last_seen": now, "address": address_of(request), "browser": browser_of(request), "tablet": tablet}
    SignIn.objects.update_or_create(
        session_key=request.session.session_key, defaults=seen, create_defaults=seen | {"person": request.user}
    )
    if tablet:
        Tablet.objects.filter(pk=tablet.pk).update(last_seen=now)


def _now() -> int:
    return int(timezone.now().timestamp())
