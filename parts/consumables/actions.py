"""What is done with consumables: anybody at work takes some and counts the shelf; the stores order and enter them."""

from core.domain.catalogue import Action, EventType, Logged
from core.domain.refusals import Refusal
from core.roles import AT_WORK, MANAGER, STORES
from parts.domain.consumables import counted

DATA = {
    "quantity": int,
    "unit": str,
    "was": int,
    "of": str,
    "promised": str,
    "order": int,
    "left": int,
    "before": int,
    "place": str,
    "changed": dict,
    "in_hand": dict,
}


def _so_many(lead: str):
    def tell(event: Logged) -> str:
        number = counted(event.data.get("quantity", 0), event.data.get("unit", ""))
        of = f" of {event.data['of']}" if event.data.get("of") else ""
        left = f"; {counted(event.data['left'], event.data['unit'])} still to come" if event.data.get("left") else ""
        return f"{lead} {number}{of}{left}."

    return tell


def _event(word: str, lead: str) -> EventType:
    return EventType(word=word, past=lead, data=DATA, tell=_so_many(lead))


TAKE = Action(
    word="take consumable",
    roles=AT_WORK | MANAGER,
    events=(
        _event("take consumable", "Taken:"),
        _event("count consumable", "Counted on the shelf:"),
        _event("bring consumable back", "Brought back to the shelf:"),
        _event("use consumable up", "Used up, as its place is together:"),
    ),
)
EDIT = Action(
    word="edit consumables",
    roles=STORES | MANAGER,
    events=(
        _event("put consumable in stock", "Put in stock:"),
        _event("order consumable", "Ordered:"),
        _event("consumable arrived", "Arrived:"),
        _event("give up order", "Order given up:"),
        _event("want consumable", "Wanted for a place:"),
        EventType(word="add consumable", past="Entered"),
        EventType(word="edit consumable", past="Details changed", data=DATA),
    ),
)


def too_many(quantity: int, in_stock: int, unit: str) -> Refusal | None:
    if quantity <= in_stock:
        return None
    sentence = f"How many: {counted(in_stock, unit)} in stock, so {counted(quantity, unit)} cannot be taken."
    return Refusal("quantity", sentence, "Count the shelf and write down what is there.")
