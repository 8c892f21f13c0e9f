"""One's own calendar address, and the file behind it."""

from datetime import UTC

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from core.access import anyone, who_may

from ..actions import writing
from ..domain.icalendar import calendar
from ..models import CalendarAddress
from . import writers
from .contents import entries


@who_may("keep calendar")
@require_safe
def my_calendar(request):
    made = CalendarAddress.objects.filter(person=request.user).first()
    return _page(request, made)


@who_may("keep calendar")
@never_cache
@require_POST
def make_address(request):
    """Told on this page alone: afterwards only its digest is known."""
    secret = writers.make(request.user)
    made = CalendarAddress.objects.get(person=request.user)
    return _page(request, made, request.build_absolute_uri(reverse("calendar_file", args=[secret])))


def _page(request, made, address=""):
    page = {"page": "Your calendar's address", "made": made, "address": address}
    return render(request, "parts/calendars/my_calendar.html", page)


@who_may("keep calendar")
@require_POST
def withdraw_address(request):
    if writers.withdraw(request.user):
        messages.success(request, "The address is withdrawn. A calendar that has it gets nothing more.")
    return redirect("my_calendar")


@anyone
@never_cache
@require_safe
def calendar_file(request, secret):
    """Whoever knows the secret reads the days of the person who made it, until they withdraw it."""
    person = writers.whose(secret)
    if person is None:
        raise Http404("No such calendar.")
    here = request.build_absolute_uri("/").rstrip("/")
    file = calendar(f"Cotter: {person}", entries(person, writing.today(), here), timezone.now().astimezone(UTC))
    answer = HttpResponse(file.encode(), content_type="text/calendar; charset=utf-8")
    answer.headers["Referrer-Policy"] = "no-referrer"
    return answer
