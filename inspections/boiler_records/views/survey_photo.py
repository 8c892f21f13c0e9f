"""The grid of a survey laid on a photo of the plate: a photo chosen or taken, then its four corners tapped."""

from django.contrib import messages
from django.db.models import Q
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import may
from parts.models import Photo
from parts.photos.beside_form import keep_photos
from parts.photos.writers import content_of

from ...domain.boiler_words import CAUTION, RecordKind
from ...domain.survey_read import CORNERS
from .. import writers
from ..shortcuts import open_record_or_404, way_to

WIDE = 340
"""Pixels of the photo as it is tapped: it fits the narrowest phone."""
MOST = 12


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def survey_photo(request, pk):
    record = open_record_or_404(pk, RecordKind.SURVEY)
    if request.method == "POST":
        place = record.part.position if record.part else None
        if "photo" in request.FILES and place:
            keep_photos(request, place, caption=f"{record.title} of {record.boiler}")
            content = content_of(request.FILES["photo"])
            taken = next((photo for photo in _photos(record) if photo.content == content), None)
            made = _of(taken) if taken else record.entered.get("photo")
        else:
            made = _changed(record, request.POST)
        writers.save(record, request.user, {"photo": made})
        if made and len(made["corners"]) == len(CORNERS):
            messages.success(request, "The grid lies on the photo.")
            return redirect(record)
        return redirect("survey_photo", pk)
    kept = record.entered.get("photo")
    tapped = kept["corners"] if kept else []
    high = round(WIDE * kept["height"] / kept["width"]) if kept else 0
    page = {
        "page": f"Photo of {record.title}",
        "crumbs": way_to(record, ("", "On a photo")),
        "record": record,
        "kept": kept,
        "wide": WIDE,
        "high": high,
        "dots": [(round(x * WIDE / 1000), round(y * high / 1000)) for x, y in tapped],
        "next": CORNERS[len(tapped)] if len(tapped) < len(CORNERS) else "",
        "photos": _photos(record),
        "may_keep": may(request.user.role_names, "keep boilers"),
        "caution": CAUTION,
    }
    return render(request, "inspections/boiler_records/survey_photo.html", page)


def _photos(record) -> list[Photo]:
    """Of the place of the plate in the register, and of the piece in it."""
    place = record.part.position
    return list(Photo.objects.filter(Q(position=place) | Q(component__place=place))[:MOST]) if place else []


def _of(photo: Photo) -> dict:
    return {"name": photo.name, "width": photo.width, "height": photo.height, "corners": []}


def _changed(record, sent) -> dict:
    """Another photo chosen, the corners begun anew, or one more of them tapped."""
    if "choose" in sent:
        chosen = next((photo for photo in _photos(record) if photo.name == sent["choose"]), None)
        if chosen is None:
            raise Http404("There is no such photo of the plate.")
        return _of(chosen)
    kept = record.entered.get("photo")
    if not kept:
        raise Http404("No photo is chosen yet.")
    if "again" in sent:
        return kept | {"corners": []}
    try:
        x, y = int(sent["tap.x"]), int(sent["tap.y"])
    except (KeyError, ValueError):
        raise Http404("Tap inside the photo.") from None
    high = round(WIDE * kept["height"] / kept["width"])
    corner = [min(max(round(1000 * x / WIDE), 0), 1000), min(max(round(1000 * y / high), 0), 1000)]
    return kept | {"corners": [*kept["corners"], corner][: len(CORNERS)]}
