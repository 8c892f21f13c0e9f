"""The crate that a person is filling: remembered from one piece to the next."""

from ..models import Location

KEY = "crate"


def remembered(request) -> str:
    """The path of the place where this person put the last piece; nothing if it is no longer used."""
    pk = request.session.get(KEY)
    place = Location.objects.in_use().filter(pk=pk).first() if pk else None
    return place.path if place else ""


def remember(request, place: Location | None) -> None:
    if place is not None and request.session.get(KEY) != place.pk:
        request.session[KEY] = place.pk
