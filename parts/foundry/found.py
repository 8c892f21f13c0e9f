"""What can be found of patterns, core boxes and jigs."""

from core.web.found import FoundKind, FoundRow, Words

from ..domain.plain import capital
from ..models import Pattern, Tag


def of_patterns(ids) -> dict[int, Words]:
    codes = Tag.objects.codes_by("pattern", ids)
    columns = ("pk", "kind", "name", "drawing", "marks", "owner", "state", "location__path")
    found = {}
    for pk, kind, name, drawing, marks, owner, state, path in Pattern.objects.filter(pk__in=ids).values_list(*columns):
        past = state == "withdrawn"
        found[pk] = Words(name=name, own=[drawing, marks], around=[kind, owner, path], codes=codes[pk], past=past)
    return found


def _patterns(ids, today):
    return {
        each.pk: FoundRow(
            thing=each.pk,
            title=capital(str(each)),
            href=each.get_absolute_url(),
            about=" · ".join(filter(None, [each.state, each.location.path if each.location else "", each.drawing])),
            code=each.code or "",
        )
        for each in Pattern.objects.filter(pk__in=ids).with_codes().select_related("location")
    }


FOUND = (
    FoundKind(
        kind="pattern",
        model=Pattern,
        heading="Patterns, core boxes, jigs",
        words=of_patterns,
        rows=_patterns,
        says={"location": "location"},
        rank=2,
    ),
)
