"""Signing in and out on devices: a person's own, which stay signed in for a week, and tablets that many share."""

import secrets

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.contrib.sessions.models import Session
from django.utils import timezone

from ..domain import browsers
from ..domain.codes import hashed
from ..domain.refusals import Refusal, Refused
from ..log import writing
from ..models import Person, SignIn, Tablet, TabletUse
from . import throttle

COOKIE_LASTS_S = 400 * 24 * 60 * 60  # as long as browsers keep any; each look at the tiles begins it anew
SHIFT_S = 12 * 60 * 60  # nobody stays signed in on a shared tablet until the next day
BACKEND = "django.contrib.auth.backends.ModelBackend"


def tablet_of(request) -> Tablet | None:
    """The shared tablet that this request comes from. One small query, and none where there is no such cookie."""
    if not hasattr(request, "_tablet"):
        token = request.COOKIES.get(settings.TABLET_COOKIE_NAME, "")
        request._tablet = Tablet.objects.of_token(hashed(token)) if token else None
    return request._tablet


def address_of(request) -> str:
    return request.META.get("REMOTE_ADDR", "")[:45]


def hidden_by_the_proxy(request) -> bool:
    """A reverse proxy passed this on without saying for whom: then one guesser makes everybody wait."""
    forwarded = "HTTP_X_FORWARDED_PROTO" in request.META
    return forwarded and "HTTP_X_FORWARDED_FOR" not in request.META


def browser_of(request) -> str:
    return browsers.in_words(request.headers.get("User-Agent", ""))


def sign_in(request, person: Person) -> None:
    """Begin a session. What was begun in the session of somebody else is gone with it, its forms included."""
    login(request, person, backend=BACKEND)
    if tried := throttle.told_once(person.pk):
        messages.warning(request, tried)
    tablet = tablet_of(request)
    if tablet:
        bind_to(request, tablet)


def bind_to(request, tablet: Tablet) -> None:
    """From here on the session is one of a shared tablet: it ends sooner, and counts nowhere else."""
    request._tablet = tablet
    request.session["tablet"] = tablet.pk
    request.session.set_expiry(SHIFT_S)
    TabletUse.objects.update_or_create(tablet=tablet, person_id=request.user.pk, defaults={"last_at": timezone.now()})


def renamed(request, old_key: str) -> None:
    """The session has a new key (a new password makes one); it is still the same device."""
    SignIn.objects.with_session(old_key).update(session_key=request.session.session_key)


def end(sign_ins) -> int:
    """Sign these out: their next request leads to the sign-in page. How many there were."""
    keys = list(sign_ins.values_list("session_key", flat=True))
    with writing.one_transaction():
        Session.objects.filter(session_key__in=keys).delete()
        SignIn.objects.filter(session_key__in=keys).delete()
    return len(keys)


def end_all(person: Person, *, but: str | None = None) -> int:
    """Sign a person out everywhere, or everywhere but here."""
    SignIn.objects.filter(person=person).dead().delete()
    return end(SignIn.objects.filter(person=person).but(but))


# --- shared tablets -----------------------------------------------------------------------------------------------


def share(request, name: str) -> tuple[Tablet, str]:
    """Mark the device that asks as a shared tablet; the token goes into its cookie and is kept nowhere."""
    writing.allow(request.user, "share device")
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Say which one it is, such as Bench tablet."))
    if Tablet.objects.filter(name__iexact=name).exists():
        raise Refused(Refusal("name", f"Name: there is a {name} already.", "Choose another, or remove that one."))
    if tablet_of(request):
        raise Refused(Refusal("shared", "This device is a shared tablet already.", "Remove it first to rename it."))
    token = secrets.token_urlsafe(32)
    with writing.one_transaction():
        tablet = Tablet.objects.create(
            token_hash=hashed(token), name=name, browser=browser_of(request), marked_by=request.user
        )
        SignIn.objects.with_session(request.session.session_key).update(tablet=tablet)
        bind_to(request, tablet)
        writing.log(request.user, "share device", remark=name, data={"tablet": tablet.pk})
    return tablet, token


def unshare(tablet: Tablet, actor: Person) -> None:
    """The device is no shared tablet any more, and whoever is signed in on it is signed out."""
    writing.allow(actor, "share device")
    with writing.one_transaction():
        end(SignIn.objects.filter(tablet=tablet))
        writing.log(actor, "stop sharing device", remark=tablet.name, data={"tablet": tablet.pk})
        tablet.delete()


def keep_cookie(response, token: str) -> None:
    response.set_cookie(
        settings.TABLET_COOKIE_NAME,
        token,
        max_age=COOKIE_LASTS_S,
        httponly=True,
        samesite="Lax",
        secure=settings.ONLY_HTTPS,
    )
