"""Photos of a piece, a position or a location: the files as served, the page of one, and adding more."""

from collections.abc import Sequence

from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import condition, require_http_methods, require_safe

from core.access import signed_in
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused

from ..common.shortcuts import (
    location_or_404,
    pattern_or_404,
    position_or_404,
    status_of,
    subassembly_or_404,
    tag_or_404,
)
from ..domain.plain import capital
from ..domain.tagcodes import grouped
from ..models import Component, Photo
from . import mending
from .writers import SIZES, add, picture_name, shown

A_YEAR_S = 365 * 24 * 60 * 60


def _etag(request, name, size):
    return f'"{name}-{size}"'  # a file under a name never changes


@signed_in
@require_safe
@cache_control(private=True, max_age=A_YEAR_S, immutable=True)
@condition(etag_func=_etag)
def photo(request, name, size):
    """One picture, which the browser of whoever may see it keeps for good."""
    if size not in SIZES:
        raise Http404("No such size.")
    try:
        file = shown().open(picture_name(name, size))
    except FileNotFoundError:
        raise Http404("No such photo.") from None
    return FileResponse(file, content_type="image/jpeg", filename=picture_name(name, size))


@signed_in
@require_safe
def photo_page(request, name):
    """One photo large, with who added it and when."""
    picture = photo_or_404(name)
    thing, back = whose(picture)
    crumbs = [{"href": back, "label": capital(str(thing))}, {"href": "", "label": "Photo"}]
    page = {"page": f"Photo of {thing}", "photo": picture, "thing": thing, "back": back, "crumbs": crumbs}
    page["may_mend"] = mending.may_mend(picture, request.user) and not isinstance(thing, str)
    return render(request, "parts/photos/photo_page.html", page)


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def photos(request, code):
    """All photos of what the tag is tied to, and the form that adds some."""
    tag = tag_or_404(code)
    thing = tag.thing
    if thing is None:
        raise Http404(f"Tag {grouped(tag.code)} is tied to nothing yet: tie it to a piece or a crate first.")
    return _photos_of(request, thing, reverse("tag", args=[tag.code]), f"{thing}, {tag.code}")


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def position_photos(request, pk):
    position = position_or_404(pk)
    return _photos_of(request, position, position.get_absolute_url(), f"the place {position.words}")


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def location_photos(request, pk):
    location = location_or_404(pk)
    return _photos_of(request, location, location.get_absolute_url())


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def pattern_photos(request, pk):
    pattern = pattern_or_404(pk)
    return _photos_of(request, pattern, pattern.get_absolute_url())


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def subassembly_photos(request, slug, code):
    """What is seen before it is boxed up; from here one goes back to putting it together."""
    subassembly = subassembly_or_404(slug, code)
    return _photos_of(request, subassembly, reverse("put_together", args=[slug, code]), subassembly.name)


def _photos_of(request, thing, back, words=""):
    refusals: Sequence[Refusal] = ()
    kept, caption = "", request.POST.get("caption", "")
    if request.method == "POST":
        try:
            added = add(request.FILES.getlist("photos"), thing, request.user, caption=caption)
            refusals, kept = added.refusals, _kept(added, thing)
        except Refused as refused:
            refusals = refused.refusals
        if not refusals:
            messages.success(request, kept)
            return redirect(back)
    page = {
        "page": f"Photos of {words or thing}",
        "thing": thing,
        "back": back,
        "photos": list(thing.photos.with_names()),
        "refusals": refusals,
        "kept": kept,
        "caption": caption,
        "may_photograph": may(request.user.role_names, "photograph"),
        "crumbs": [{"href": back, "label": capital(str(thing))}, {"href": "", "label": "Photos"}],
    }
    return render(request, "parts/photos/photos.html", page, status=status_of(refusals))


def _kept(added, thing) -> str:
    """'2 photos of the axlebox kept. 1 photo was here already and is kept once.'"""
    sentences = [f"{_counted(len(added.photos))} of {thing} kept."] if added.photos else []
    if added.again:
        was = "was" if added.again == 1 else "were"
        sentences.append(
            f"{_counted(added.again)} {was} here already, and {'is' if added.again == 1 else 'are'} kept once."
        )
    return " ".join(sentences)


def _counted(number: int) -> str:
    return "1 photo" if number == 1 else f"{number} photos"


def photo_or_404(name: str) -> Photo:
    try:
        return Photo.objects.with_names().get(name=name)
    except Photo.DoesNotExist:
        raise Http404("No such photo.") from None


def whose(picture: Photo):
    """What it is a photo of, and the address of that; of one taken out, no thing."""
    thing = picture.component or picture.position or picture.location or picture.pattern or picture.subassembly
    if isinstance(thing, Component):
        return thing, reverse("tag", args=[thing.tags.current_code()])
    return (thing, thing.get_absolute_url()) if thing else ("a photo taken out", reverse("home"))
