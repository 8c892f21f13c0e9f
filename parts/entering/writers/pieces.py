"""Writers for single pieces outside the life cycle's table: new pieces, their places, splitting, describing."""

from decimal import Decimal

from core.domain.refusals import Refusal, Refused
from core.roles import may
from parts.actions import writing
from parts.actions.built_up import is_open, settle_opened
from parts.actions.cases import holds_over, place_row
from parts.domain.rows import Given
from parts.domain.states import Case, refusals
from parts.domain.words import Action, Origin, Side, State
from parts.models import Component, Earmark, Location, Locomotive, Position
from parts.tags.writers import free_tag, issue

DESCRIBED = (
    "name",
    "side",
    "marks",
    "works_number",
    "owner",
    "origin",
    "origin_evidence",
    "cast_number",
    "papers",
    "way_round",
    "packing",
    "mass_kg",
    "notes",
)
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
    return _enter(
        Action.STRIP, State.STRIPPED, actor, locomotive, name, place, code, location, quantity, reason, described
    )


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
    described.setdefault("origin", Origin.NEW.value)
    return _enter(
        Action.START_ON,
        State.IN_THE_MAKING,
        actor,
        place.locomotive,
        name,
        place,
        code,
        location,
        quantity,
        reason,
        described,
        promised=promised,
        renewal=renewal or _only_renewal(place),
    )


def _only_renewal(place: Position):
    """The renewal that a new piece belongs to without being asked; of several, somebody says which."""
    under_way = list(place.renewals.under_way().select_related("replaces")[:2])
    return under_way[0] if len(under_way) == 1 else None


def _enter(
    action,
    state,
    actor,
    locomotive,
    name,
    place,
    code,
    location,
    quantity,
    reason,
    described,
    promised=None,
    renewal=None,
):
    name = name.strip()
    if not name:
        raise Refused(Refusal("name", "What it is: nothing was written.", "Name the piece in a few words."))
    _well_described(described)
    if place is not None:
        locomotive = place.locomotive
    with writing.one_transaction():
        _allowed_to_enter(action, actor, place)
        tag = free_tag(code) if code else None
        _room(place, quantity, action)
        came_off = place if action is Action.STRIP else None
        component = Component.objects.create(
            locomotive=locomotive,
            name=name,
            quantity=quantity,
            state=state,
            since=writing.today(),
            place=place,
            came_off=came_off,
            matched=place.matched if place and action is Action.STRIP else "",
            location=location,
            promised_back=promised,
            broken_down=is_open(place),
            renewal=renewal,
            replaces=renewal.replaces if renewal else None,
            **described,
        )
        event = writing.log(
            actor, action.value, component=component, position=place, to_state=state.value, remark=reason
        )
        component.bared_event = event.pk
        if location is not None:
            writing.note_movement(event, component, None, location)
            component.promised_back = promised if location.away else None
        component.save()
        if tag:
            tag.component, tag.current, tag.tied_by = component, True, actor
            tag.save()
        else:
            issue(component, actor)
        if action is Action.STRIP:
            writing.no_longer_empty(place)
        writing.refresh(place and place.pk, *settle_opened(place))
        return component


def _allowed_to_enter(action, actor, place):
    today = writing.today()
    case = Case(
        piece=None,
        place=place_row(place.pk) if place else None,
        actor=actor.as_actor(today),
        today=today,
        given=Given(),
        may=may if actor.is_active else lambda roles, deed: False,
        holds=holds_over(place, place.locomotive_id) if place else (),
    )
    found = refusals(action, case)
    if found:
        raise Refused(*found)


def _room(place: Position | None, quantity: int, action) -> None:
    """A place takes no more live pieces than its quantity; the database says the same, less kindly."""
    if quantity < 1:
        raise Refused(Refusal("quantity", "How many: it must be at least 1.", "Write a whole number."))
    if place is None:
        return
    if place.retired:
        raise Refused(Refusal("place-retired", f"{place.words} was taken away.", "Choose a place that is still there."))
    if action is Action.START_ON:
        if quantity > place.quantity:
            raise Refused(Refusal("quantity", f"How many: {quantity}.", f"{place.words} takes {place.quantity}."))
        return
    filled = sum(piece.quantity for piece in place.pieces.live().select_for_update())
    if filled + quantity > place.quantity:
        raise Refused(
            Refusal(
                "place-taken",
                f"{place.words}: {filled} of {place.quantity} are filled already.",
                "Choose another place, leave the place open, or withdraw the piece that is there.",
            )
        )


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
        if component.state not in (State.STRIPPED, State.CLEANED):
            raise Refused(
                Refusal(
                    "state",
                    f"It is {component.state}.",
                    "A place is chosen while it is stripped or cleaned: send it back first.",
                )
            )
        old = component.place
        if place == old:
            return
        _leaves_nothing_behind(component)
        if place is not None:
            _room(place, component.quantity, None)
            component.locomotive_id = place.locomotive_id
            component.broken_down = component.broken_down or is_open(place)
        component.place = place
        writing.log(actor, "choose place", component=component, position=place, data={"from": old and old.pk})
        component.on_trial = False
        component.save()
        if place is not None:
            Earmark.objects.get_or_create(component=component, position=place)
            writing.no_longer_empty(place)
        if old and not writing.is_full(old) and not old.known_empty:
            writing.now_empty(old, actor, f"{component.name} was given another place, or none.")
        writing.refresh(old and old.pk, place and place.pk, *settle_opened(old, place))


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
                changed[field] = [_kept(getattr(component, field)), _kept(described[field])]
                setattr(component, field, described[field])
        if not changed:
            return
        writing.log(actor, "describe", component=component, data=changed)
        component.save()
        writing.refresh(component.place_id)


def _kept(value):
    """As the log keeps it: an exact number as its text."""
    return f"{value.normalize():f}" if isinstance(value, Decimal) else value


def split_lot(component: Component, quantity: int, actor, *, seen=None) -> Component:
    """Part of a lot goes its own way, with a tag of its own. What was signed was signed of the lot: the part split off
    from a lot that was looked at is looked at again by itself."""
    writing.allow(actor, "split lot")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        if component.state in (State.REFITTED, State.IN_PLACE, State.WITHDRAWN):
            raise Refused(Refusal("state", f"The lot is {component.state}.", "Split it while it is in hand."))
        if not 1 <= quantity < component.quantity:
            raise Refused(
                Refusal(
                    "quantity",
                    f"How many: {quantity} of {component.quantity} cannot be split off.",
                    f"Write 1 to {component.quantity - 1}.",
                )
            )
        writing.log(
            actor, "split lot", component=component, position_id=component.place_id, data={"split_off": quantity}
        )
        component.quantity -= quantity
        component.save()
        part = Component.objects.get(pk=component.pk)
        part.pk, part.quantity, part._state.adding = None, quantity, True
        if part.state in (State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED):
            part.state, part.since = State.CLEANED.value, writing.today()
        part.save()
        writing.log(
            actor,
            "split lot",
            component=part,
            position_id=part.place_id,
            to_state=part.state,
            data={"split_from": component.pk, "quantity": quantity},
        )
        part.save()
        issue(part, actor)
        writing.refresh(component.place_id)
        return part


__all__ = ["choose_place", "describe", "earmark", "split_lot", "start_on", "strip_new"]
