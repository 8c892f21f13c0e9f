"""Writers of consumables: what is taken and added is an event each, so that the count on the shelf can be explained."""

from collections.abc import Iterable
from datetime import date

from django.db import IntegrityError, transaction

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.domain.consumables import NamedConsumable
from parts.models import Consumable, ConsumableOrder, ConsumableUse, Firm, Locomotive, Position

from .actions import too_many

FIELDS = ("name", "size", "unit", "least", "location", "note")


def add(actor, *, in_stock: int | None = None, **entered) -> Consumable:
    writing.allow(actor, "edit consumables")
    with writing.one_transaction():
        consumable = Consumable(in_stock=in_stock or 0)
        _describe(consumable, entered)
        _save(consumable)
        _log(consumable, actor, "add consumable", remark=str(consumable))
        return consumable


def edit(consumable: Consumable, actor, *, seen: int | None = None, **entered) -> None:
    writing.allow(actor, "edit consumables")
    with writing.one_transaction():
        consumable = locked(consumable, seen)
        before = {name: str(getattr(consumable, name) or "") for name in FIELDS}
        _describe(consumable, entered)
        after = {name: str(getattr(consumable, name) or "") for name in FIELDS}
        changed = {name: [before[name], after[name]] for name in FIELDS if before[name] != after[name]}
        if changed:
            _save(consumable)
            _log(consumable, actor, "edit consumable", data={"changed": changed})


def take(consumable: Consumable, actor, quantity: int | None, why: str = "", *, seen: int | None = None) -> None:
    """So many leave the shelf."""
    writing.allow(actor, "take consumable")
    quantity = _at_least(quantity, 1)
    with writing.one_transaction():
        consumable = locked(consumable, seen)
        if refusal := too_many(quantity, consumable.in_stock, consumable.unit):
            raise Refused(refusal)
        put(consumable, actor, "take consumable", quantity, consumable.in_stock - quantity, remark=why)


def put_in_stock(
    consumable: Consumable, actor, quantity: int | None, why: str = "", *, seen: int | None = None
) -> None:
    writing.allow(actor, "edit consumables")
    quantity = _at_least(quantity, 1)
    with writing.one_transaction():
        consumable = locked(consumable, seen)
        put(consumable, actor, "put consumable in stock", quantity, consumable.in_stock + quantity, remark=why)


def count(consumable: Consumable, actor, quantity: int | None, why: str = "", *, seen: int | None = None) -> None:
    """What is there, whatever the register thought."""
    writing.allow(actor, "take consumable")
    quantity = _at_least(quantity, 0)
    with writing.one_transaction():
        consumable = locked(consumable, seen)
        put(consumable, actor, "count consumable", quantity, quantity, remark=why)


def order(
    consumable: Consumable,
    actor,
    quantity: int | None,
    *,
    firm: Firm | None = None,
    who: str = "",
    promised: date | None = None,
    seen: int | None = None,
) -> ConsumableOrder:
    writing.allow(actor, "edit consumables")
    quantity, today = _at_least(quantity, 1), writing.today()
    if firm is None and not who.strip():
        raise Refused(Refusal("firm", "Of whom: nobody named.", "Choose the firm, or write the name."))
    if promised and promised < today:
        raise Refused(Refusal("promised", "Promised for: the day has passed.", "Give the day they promise now."))
    with writing.one_transaction():
        consumable = locked(consumable, seen)
        made = ConsumableOrder.objects.create(
            consumable=consumable, quantity=quantity, firm=firm, who=who.strip(), ordered=today, promised=promised
        )
        data = _of_order(made) | {"quantity": quantity, "unit": consumable.unit}
        _log(consumable, actor, "order consumable", data=data)
        return made


def arrived(ordered: ConsumableOrder, actor, quantity: int | None, *, seen: int | None = None) -> int:
    """So many are on the shelf; the rest of the order is still to come. How many that is."""
    writing.allow(actor, "edit consumables")
    came = _at_least(quantity, 1)
    with writing.one_transaction():
        consumable = _open_still(ordered, seen)
        before = ordered.quantity
        left = max(before - came, 0)
        _order_now(ordered, left or before, "" if left else "arrived")
        data = _of_order(ordered) | {"before": before, "left": left}
        put(consumable, actor, "consumable arrived", came, consumable.in_stock + came, **data)
        return left


def give_up(ordered: ConsumableOrder, actor) -> None:
    """It will not come."""
    writing.allow(actor, "edit consumables")
    with writing.one_transaction():
        consumable = _open_still(ordered, None)
        _order_now(ordered, ordered.quantity, "given up")
        data = _of_order(ordered) | {"before": ordered.quantity}
        put(consumable, actor, "give up order", ordered.quantity, consumable.in_stock, **data)


def _open_still(ordered: ConsumableOrder, seen: int | None) -> Consumable:
    consumable = locked(ordered.consumable, seen)
    writing.hold(ordered)
    if ordered.ended:
        raise Refused(Refusal("ended", f"This order is {ordered.ended} already.", "Look at the page again."))
    return consumable


def _order_now(ordered: ConsumableOrder, quantity: int, ended: str) -> None:
    ordered.quantity, ordered.ended = quantity, ended
    ordered.save(update_fields=["quantity", "ended"])


def want(consumable: Consumable, place: Position, actor, quantity: int | None) -> int:
    """So many each time the place goes together; none at all with 0. Of what is in hand the rest counts as in stock
    again: says how many that is."""
    writing.allow(actor, "edit consumables")
    quantity = _at_least(quantity, 0)
    with writing.one_transaction():
        consumable = locked(consumable, None)
        use = ConsumableUse.objects.filter(consumable=consumable, position=place).select_for_update().first()
        over = max(use.in_hand - quantity, 0) if use else 0
        if use and over:
            now = consumable.in_stock + over
            put(consumable, actor, "bring consumable back", over, now, place.words, in_hand={str(use.pk): -over})
        if use and quantity:
            use.quantity, use.in_hand = quantity, use.in_hand - over
            use.save(update_fields=["quantity", "in_hand"])
        elif use:
            use.delete()
        elif quantity:
            ConsumableUse.objects.create(consumable=consumable, position=place, quantity=quantity)
        data = {"quantity": quantity, "unit": consumable.unit, "place": place.words}
        _log(consumable, actor, "want consumable", place=place, remark=place.words, data=data)
        return over


def want_all(locomotive: Locomotive, wanted: Iterable[tuple[Position, tuple[NamedConsumable, ...]]]) -> None:
    """What the places of a new locomotive take. A size that only its drawing says is a consumable of its own."""
    known: dict[tuple[str, str], Consumable] = {}
    uses = []
    for place, of_place in wanted:
        for named in of_place:
            name, size = named.name, named.size or f"as drawn for {locomotive}"[:120]
            if (name, size) not in known:
                same = Consumable.objects.filter(name__iexact=name, size__iexact=size)
                known[name, size] = same.first() or Consumable.objects.create(name=name, size=size, unit=named.unit)
            uses.append(ConsumableUse(position=place, consumable=known[name, size], quantity=named.quantity))
    ConsumableUse.objects.bulk_create(uses)


def count_again(event: Event, undone: Event) -> None:
    """As many are in stock as before. Inside a transaction of the caller."""
    (about,) = event.subjects.filter(kind="consumable")
    consumable = Consumable.objects.select_for_update(of=("self",)).get(pk=about.number)
    writing.not_stale(consumable, event.pk)
    consumable.in_stock, consumable.last_event = event.data["was"], undone.pk
    consumable.save(update_fields=["in_stock", "last_event"])


def expected_again(event: Event) -> None:
    """What came of an order is still to come, as before. Inside a transaction of the caller."""
    ordered = ConsumableOrder.objects.select_for_update(of=("self",)).get(pk=event.data["order"])
    _order_now(ordered, event.data["before"], "")


# --- what they share


def locked(consumable: Consumable, seen: int | None) -> Consumable:
    found = Consumable.objects.select_for_update(of=("self",)).get(pk=consumable.pk)
    if seen is not None and found.last_event:
        writing.not_stale(found, seen)
    return found


def put(consumable: Consumable, actor, word: str, quantity: int, now: int, remark: str = "", **more) -> None:
    data = {"quantity": quantity, "unit": consumable.unit, "was": consumable.in_stock} | more
    consumable.in_stock = now
    _log(consumable, actor, word, remark=remark.strip(), data=data)


def _log(consumable: Consumable, actor, word: str, *, place: Position | None = None, **fields) -> None:
    event = writing.log(actor, word, consumable=consumable, position=place, **fields)
    consumable.last_event = event.pk
    consumable.save(update_fields=["in_stock", "last_event"])


def _of_order(ordered: ConsumableOrder) -> dict:
    promised = ordered.promised.isoformat() if ordered.promised else ""
    return {"of": ordered.of, "promised": promised, "order": ordered.pk}


def _at_least(quantity: int | None, least: int) -> int:
    if quantity is None or quantity < least:
        raise Refused(Refusal("quantity", "How many: not a number, or too small.", f"Write {least} or more."))
    return quantity


def _describe(consumable: Consumable, entered: dict) -> None:
    for name in FIELDS:
        if name in entered:
            value = entered[name]
            setattr(consumable, name, " ".join(value.split()) if isinstance(value, str) else value)
    consumable.least = consumable.least or 0
    if not consumable.name:
        raise Refused(Refusal("name", "What it is: nothing was written.", "Name the consumable."))


def _save(consumable: Consumable) -> None:
    try:
        with transaction.atomic():
            consumable.save()
    except IntegrityError:
        sentence = f"What it is: “{consumable}” is entered already."
        raise Refused(Refusal("name", sentence, "Open that one, or give another size.")) from None
