"""Putting a photo right, and taking one out."""

from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from core.log.writing import written

from ..common.confirm_form import ask, sent
from ..common.shortcuts import refusals_told, say_done
from ..common.small_forms import with_seen
from ..domain.plain import capital
from . import mending, turning
from .forms import PutRight, TakeOut
from .views import photo_or_404, whose

READ = ["GET", "HEAD", "POST"]


@who_may("photograph")
@require_http_methods(READ)
def put_right(request, name):
    photo = photo_or_404(name)
    form = with_seen(PutRight(sent(request), initial={"caption": photo.caption}), mending.edits_of(photo))

    def do(entered):
        mending.put_right(photo, request.user, **entered)
        return "The photo is put right.", _page(photo)

    return _ask(request, photo, form, do, "Put this photo right", "Save")


@who_may("photograph")
@require_http_methods(READ)
def take_out(request, name):
    photo = photo_or_404(name)

    def do(entered):
        mending.take_out(photo, request.user, **entered)
        return "The photo is taken out.", whose(photo)[1]

    return _ask(request, photo, TakeOut(sent(request)), do, "Take this photo out", "Take this photo out")


@who_may("photograph")
@require_POST
def turn(request, name):
    """To the left or to the right, or on its head."""
    photo = photo_or_404(name)
    quarters = {"right": 1, "over": 2, "left": 3}.get(request.POST.get("way", ""), 0)
    if not quarters:
        return redirect(_page(photo))
    with refusals_told(request):
        with written() as events:
            photo = turning.turn(photo, request.user, quarters=quarters)
        say_done(request, "The photo is turned.", events)
    return redirect(_page(photo))


def _ask(request, photo, form, do, heading: str, button: str):
    thing, back = whose(photo)
    crumbs = [{"href": back, "label": capital(str(thing))}, {"href": "", "label": heading}]
    return ask(request, form, do, heading=heading, button=button, back=_page(photo), crumbs=crumbs)


def _page(photo) -> str:
    return reverse("photo_page", args=[photo.name])
