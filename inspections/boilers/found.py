"""What can be found of boilers."""

from collections import defaultdict

from core.web.found import FoundKind, FoundRow, Words
from parts.domain.plain import capital

from ..models import Boiler, BoilerPart


def of_boilers(ids) -> dict[int, Words]:
    parts = defaultdict(list)
    for pk, name in BoilerPart.objects.filter(boiler__in=ids).values_list("boiler", "name"):
        parts[pk].append(name)
    columns = ("pk", "number", "maker", "built", "body", "person", "locomotive__name")
    return {
        pk: Words(name=f"boiler {number}", own=[number], around=[*filter(None, around), engine or "spare", *parts[pk]])
        for pk, number, *around, engine in Boiler.objects.filter(pk__in=ids).values_list(*columns)
    }


def _boilers(ids, today):
    return {
        one.pk: FoundRow(
            thing=one.pk,
            title=capital(str(one)),
            href=one.get_absolute_url(),
            about=" · ".join(filter(None, [str(one.locomotive or "Spare, on no locomotive"), one.maker, one.built])),
        )
        for one in Boiler.objects.filter(pk__in=ids).select_related("locomotive")
    }


FOUND = (
    FoundKind(
        kind="boiler",
        model=Boiler,
        heading="Boilers",
        words=of_boilers,
        rows=_boilers,
        says={"locomotive": "locomotive"},
        rank=6,
    ),
)
