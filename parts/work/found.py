"""What can be found of the firms that do work."""

from core.web.found import FoundKind, FoundRow, Words

from ..models import Firm


def of_firms(ids) -> dict[int, Words]:
    rows = Firm.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "does", "location__path")
    return {pk: Words(name=name, around=[does, path]) for pk, name, does, path in rows}


def _firms(ids, today):
    firms = Firm.objects.in_bulk(ids).values()
    return {
        firm.pk: FoundRow(thing=firm.pk, title=firm.name, href=firm.get_absolute_url(), about=firm.does)
        for firm in firms
    }


FOUND = (
    FoundKind(
        kind="firm",
        model=Firm,
        heading="Firms",
        words=of_firms,
        rows=_firms,
        says={"location": "location"},
    ),
)
