"""Writers for single pieces outside the life cycle: new pieces, their places, what is written down about them."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from django.db.models import QuerySet

from core.domain.refusals import Refusal, Refused
from core.models.prepared import prepared
from parts import facts
from parts.actions import emptiness, writing
from parts.actions.built_up import is_open, settle_opened
from parts.actions.change import NewPiece
from parts.actions.perform import carry_out, judged
from parts.actions.refresh import refresh
from parts.actions.tags import free_tag
from parts.actions.writing import lying
from parts.domain.rows import ActionInput
from parts.domain.states import piece_action, refusals
from parts.domain.words import Origin, Side, State
from parts.entering.actions import FIELDS, against_earmarking
from parts.models import Component, Earmark, Location, Locomotive, Position

DESCRIBED = tuple(FIELDS)
"""What may be written down about a piece at any time, by whoever is at work on it."""

HEAVIEST_KG = Decimal(500_000)
"""More than a whole locomotive weighs: a slip of the pen."""


def strip_new(
    actor,
    *,
    locomotive: Locomotive | None,
    name: str,
    place: Position | None = None,
    code: str = "",
    location: Location | None = None,
    quantity: int = 1,
    reason: str = "",
    **described,
) -> Component:
    """A piece comes off and enters the register; a tag scanned for it is tied, or one is issued."""
    columns = {"locomotive_id": locomotive.pk if locomotive else None, "quantity": quantity, **described}
    if place is not None:
        columns |= {"locomotive_id": place.locomotive_id, "came_off_id": place.pk, "matched": place.matched}
    return _enter("strip", State.STRIPPED, actor, name, place, code, location, reason, columns)


def start_on(
    actor,
    *,
    place: Position,
    name: str,
    code: str = "",
    location=None,
    quantity: int = 1,
    promised=None,
    reason="",
    renewal=None,
    **described,
) -> Component:
    """A new piece for a place is begun: tagged from its casting or plate on. It belongs to the renewal that is under
    way for the place, and replaces what that one renews."""
    renewal = renewal or _only_renewal(place)
    columns = {
        "origin": Origin.NEW.value,
        "locomotive_id": place.locomotive_id,
        "quantity": quantity,
        "renewal_id": renewal.pk if renewal else None,
        "replaces_id": renewal.replaces_id if renewal else None,
        **described,
    }
    return _enter("start on", State.IN_THE_MAKING, actor, name, place, code, location, reason, columns, promised)


def _only_renewal(place: Position):
    """The renewal that a new piece belongs to without being asked; of several, somebody says which."""
    under_way = list(place.renewals.under_way().select_related("replaces")[:2])
    return under_way[0] if len(under_way) == 1 else None


def _enter(word, state, actor, name, place, code, location, reason, columns, promised=None) -> Component:
    name = name.strip()
    if not name:
        raise Refused(Refusal("name", "What it is: nothing was written.", "Name the piece in a few words."))
    _well_described(columns)
    with writing.one_transaction():
        found = refusals(piece_action(word), replace(facts.load_place(place, actor), given=ActionInput()))
        if found:
            raise Refused(*found)
        if code:
            code = free_tag(code).code
        _takes(place, columns["quantity"], word)
        columns |= {
            "name": name,
            "place_id": place.pk if place else None,
            "broken_down": is_open(place),
            **lying(location, promised, today=writing.today()),
        }
        piece = NewPiece(word=word, state=state, columns=columns, code=code, remark=reason)
        (number,) = carry_out([], [piece], actor).entered
        if state is State.STRIPPED:
            emptiness.no_longer_empty(place)
        return writing.locked(number)


def _takes(place: Position | None, quantity: int, word: str = "") -> None:
    """A place takes no more live pieces than its quantity; the database says the same, less kindly."""
    if quantity < 1:
        raise Refused(Refusal("quantity", "How many: it must be at least 1.", "Write a whole number."))
    if place is None:
        return
    if place.retired:
        raise Refused(Refusal("place-retired", f"{place.words} was taken away.", "Choose a place that is still there."))
    if word == "start on":
        if quantity > place.quantity:
            raise Refused(Refusal("quantity", f"How many: {quantity}.", f"{place.words} takes {place.quantity}."))
        return
    filled = sum(piece.quantity for piece in _filling({"place": place.pk}))
    if filled + quantity > place.quantity:
        raise Refused(
            Refusal(
                "place-taken",
                f"{place.words}: {filled} of {place.quantity} are filled already.",
                "Choose another place, leave the place open, or withdraw the piece that is there.",
            )
        )


@prepared
def _filling(scope: dict[str, Any]) -> QuerySet[Component]:
    return Component.objects.select_for_update().live().filter(**scope)


def _well_described(described) -> None:
    side, origin = described.get("side", ""), described.get("origin", Origin.UNKNOWN)
    trouble = []
    if side not in list(Side):
        trouble.append(Refusal("side", f"Its own side: “{side}”.", "Write LH, RH or nothing."))
    if origin not in list(Origin):
        trouble.append(Refusal("origin", f"Origin: “{origin}”.", f"Choose one of: {', '.join(Origin)}."))
    mass = described.get("mass_kg")
    if mass is not None and not 0 < mass < HEAVIEST_KG:
        trouble.append(Refusal("mass", f"Mass: {mass:f} kg is no mass of a piece.", "Write what one of them weighs."))
    if trouble:
        raise Refused(*trouble)


def choose_place(component: Component, place: Position | None, actor, *, seen=None) -> None:
    """Reserve a place for a piece in hand, or give its place up, while it is no further than cleaned."""
    writing.allow(actor, "earmark")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        if refusal := against_earmarking(component.state):
            raise Refused(refusal)
        old = component.place
        if place == old:
            return
        _leaves_nothing_behind(component)
        if place is not None:
            _takes(place, component.quantity)
            component.locomotive_id = place.locomotive_id
            component.broken_down = component.broken_down or is_open(place)
        component.place = place
        writing.log(actor, "choose place", component=component, position=place, data={"from": old and old.pk})
        component.on_trial = False
        component.save()
        if place is not None:
            Earmark.objects.get_or_create(component=component, position=place)
            emptiness.no_longer_empty(place)
        if old and not emptiness.is_full(old) and not old.known_empty:
            emptiness.now_empty(old, actor, f"{component.name} was given another place, or none.")
        touched = [one.pk for one in (old, place) if one]
        refresh(*touched, *settle_opened(touched))


def _leaves_nothing_behind(component: Component) -> None:
    """The pieces of a built-up piece go with it only where two of them change places."""
    if component.broken_down and Component.objects.live().filter(place__part_of=component.place_id).exists():
        raise Refused(
            Refusal(
                "pieces-inside",
                f"Pieces for the places inside {component.place} would stay behind.",
                "Let it change places with the other piece, or choose places for them first.",
            )
        )


def earmark(component: Component, position: Position, actor) -> None:
    """Note a further place that the piece might go to; it reserves nothing."""
    writing.allow(actor, "earmark")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        Earmark.objects.get_or_create(component=component, position=position)
        writing.log(actor, "earmark", component=component, position=position)
        component.save(update_fields=["last_event"])


def describe(component: Component, actor, *, seen=None, **described) -> None:
    """Write down what was seen on a piece: marks, which way round, packing, origin and its evidence."""
    writing.allow(actor, "describe")
    _well_described(described)
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        changed = {}
        for field in DESCRIBED:
            if field in described and described[field] != getattr(component, field):
                changed[field] = [_as_logged(getattr(component, field)), _as_logged(described[field])]
                setattr(component, field, described[field])
        if not changed:
            return
        writing.log(actor, "describe", component=component, data=changed)
        component.save()
        refresh(component.place_id)


def _as_logged(value):
    """As the log keeps it: an exact number as its text."""
    return f"{value.normalize():f}" if isinstance(value, Decimal) else value


def split_lot(component: Component, quantity: int, actor, *, seen=None) -> Component:
    """Part of a lot goes its own way, with a tag of its own."""
    with writing.one_transaction():
        tasks = judged("split lot", [(component, seen)], actor, ActionInput(more={"quantity": quantity}))
        (number,) = carry_out(tasks, [], actor).entered
        return writing.locked(number)
