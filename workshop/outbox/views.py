"""What waits on this phone: the page that lists it, and who is signed in as the phone is about to send."""

from pathlib import Path

from django.conf import settings
from django.http import HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from core.access import anyone
from core.models import Receipt

from .drafts import since

MOST_KEYS = 50
SCRIPT = Path(settings.ROOT) / "static" / "js" / "sw.js"


@anyone
@require_safe
def waiting(request):
    """The list itself is in the phone: the page is the same for everybody, signed in or not."""
    return render(request, "workshop/outbox/waiting.html", {"page": "Waiting on this phone"})


@anyone
@require_safe
def no_network(request):
    """Kept by the service worker, and shown at the address that was wanted. It is nobody's, so anybody may see it."""
    return render(request, "workshop/outbox/no_network.html", {"page": "No network"})


@anyone
@never_cache
@require_safe
def who(request):
    """Does the server answer, who is signed in, and the proof of origin that a form sent now needs. Asked with keys:
    which of them have arrived. Asked with a form's address and what it had seen: what was done since to its piece."""
    user = request.user if request.user.is_authenticated else None
    answer = {"person": user.pk if user else None, "name": str(user) if user else "", "token": get_token(request)}
    if user and (keys := request.GET.getlist("key")):
        answer["arrived"] = Receipt.objects.onward_of(user, keys[:MOST_KEYS])
    if user and "at" in request.GET:
        answer |= since(user, request.GET["at"], request.GET.get("seen", ""))
    return JsonResponse(answer)


@anyone
@never_cache
@require_safe
def worker(request):
    """The service worker, served from the top so that it answers for every page."""
    return HttpResponse(SCRIPT.read_bytes(), content_type="text/javascript; charset=utf-8")
