"""What can be found of consumables."""

from core.web.found import FoundKind, FoundRow, Words

from ..domain.plain import capital
from ..models import Consumable
from ..queries.consumables import stock_row


def of_consumables(ids) -> dict[int, Words]:
    rows = Consumable.objects.in_use().filter(pk__in=ids).values_list("pk", "name", "size", "note", "location__path")
    return {pk: Words(name=name, own=[size], around=[note, path or ""]) for pk, name, size, note, path in rows}


def _consumables(ids, today):
    found = [(one, stock_row(one)) for one in Consumable.objects.filter(pk__in=ids).with_stock()]
    return {
        one.pk: FoundRow(
            thing=one.pk,
            title=capital(str(one)),
            href=one.get_absolute_url(),
            about=" · ".join(filter(None, [f"{stock.say(stock.in_stock)} in stock", str(one.location or "")])),
        )
        for one, stock in found
    }


FOUND = (
    FoundKind(
        kind="consumable",
        model=Consumable,
        heading="Consumables",
        words=of_consumables,
        rows=_consumables,
        says={"location": "location"},
        rank=8,
    ),
)
