"""What waits on this phone: the page that lists it, and who is signed in as the phone is about to send."""

from django.http import JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from workshop.access import anyone


@anyone
@require_safe
def waiting(request):
    """The list itself is in the phone: the page is the same for everybody, signed in or not."""
    return render(request, "workshop/waiting.html", {"page": "Waiting on this phone"})


@anyone
@never_cache
@require_safe
def who(request):
    """Does the server answer, who is signed in, and the proof of origin that a form sent now needs."""
    user = request.user if request.user.is_authenticated else None
    return JsonResponse(
        {"person": user.pk if user else None, "name": str(user) if user else "", "token": get_token(request)}
    )
