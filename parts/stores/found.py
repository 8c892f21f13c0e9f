"""What can be found of the places where things lie."""

from core.web.found import FoundKind, FoundRow, Words

from ..domain.plain import capital
from ..models import Location, Tag


def of_locations(ids) -> dict[int, Words]:
    codes = Tag.objects.codes_by("location", ids)
    rows = Location.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "path", "note")
    return {pk: Words(name=name, around=[path, note], codes=codes[pk]) for pk, name, path, note in rows}


def _locations(ids, today):
    return {
        place.pk: FoundRow(
            thing=place.pk,
            title=capital(place.name),
            href=place.get_absolute_url(),
            about=" · ".join(filter(None, [place.get_kind_display(), _above(place.path), place.note])),
        )
        for place in Location.objects.in_bulk(ids).values()
    }


def _above(path: str) -> str:
    above, _, _ = path.rpartition(" / ")
    return f"in {above}" if above else ""


FOUND = (
    FoundKind(
        kind="location",
        model=Location,
        heading="Where things lie",
        words=of_locations,
        rows=_locations,
        says={"location": "parent", "locomotive": "locomotive"},
        rank=4,
    ),
)
