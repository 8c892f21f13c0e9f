"""What can be found of drawings."""

from collections import defaultdict

from core.web.found import FoundKind, FoundRow, Words

from ..models import Drawing, GoodFor


def of_drawings(ids) -> dict[int, Words]:
    good_for = defaultdict(list)
    for pk, engine, words in GoodFor.objects.filter(drawing__in=ids).values_list(
        "drawing", "locomotive__name", "words"
    ):
        good_for[pk].append(engine or words)
    columns = ("pk", "title", "number", "sheet", "issue", "original", "original_at__path")
    found = {}
    for pk, title, number, sheet, issue, original, path in Drawing.objects.filter(pk__in=ids).values_list(*columns):
        around = [f"sheet {sheet}", f"issue {issue}", original, path, *good_for[pk]]
        found[pk] = Words(name=title, own=[number, f"{number} {sheet}"], around=around)
    return found


def _drawings(ids, today):
    return {
        each.pk: FoundRow(
            thing=each.pk,
            title=f"{each}: {each.title}",
            href=each.get_absolute_url(),
            about=" · ".join(filter(None, [each.dated, each.lies])),
        )
        for each in Drawing.objects.filter(pk__in=ids).select_related("original_at")
    }


FOUND = (
    FoundKind(
        kind="drawing",
        model=Drawing,
        heading="Drawings",
        words=of_drawings,
        rows=_drawings,
        says={"location": "original_at", "locomotive": "good_for__locomotive"},
    ),
)
