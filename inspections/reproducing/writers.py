"""Taking from a condemned piece the sizes that its successor must match. The new piece is then measured for them."""

from dataclasses import dataclass
from fractions import Fraction

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.domain.plain import day
from parts.domain.preconditions import SIZES_TAKEN
from parts.domain.words import State
from parts.models import Component, Photo, Position

from ..domain.classes import Wears
from ..domain.lengths import LengthError, parse_length
from ..domain.reproducing import What, is_to_drawing, to_be
from ..limits.writers import UNITS, Typed, read, store_edition
from ..models import Dimension, Instrument, Limits, TakenSize

TAKE, NONE = SIZES_TAKEN


@dataclass(frozen=True, kw_only=True)
class SizeToTake:
    """One size as it was told. `tolerance`: ±0.5 about what was read; 36 in ±1/64 in; or: to drawing GW-114."""

    what: str
    name: str = ""
    size: str
    unit: str
    tolerance: str
    instrument: Instrument | None = None
    with_what: str = ""
    note: str = ""
    photo: Photo | None = None

    @property
    def named(self) -> str:
        return " ".join(self.name.split()) or self.what


def take_size(component: Component, actor, typed: SizeToTake) -> TakenSize:
    """Keep one size of it, for the place that it fills or came off. Whoever may set limits sets them by that; else
    they wait for the responsible engineer (`set_in_force`)."""
    writing.allow(actor, "examine")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        place = _place_of(component)
        value, found = _read(component, place, typed)
        if found:
            raise Refused(*found)
        dimension = _dimension_for(place, typed)
        event = writing.log(
            actor, TAKE, component=component, position=place, touches=False, remark=f"{typed.named}: {typed.size}"
        )
        taken = TakenSize.objects.create(
            component=component,
            dimension=dimension,
            what=typed.what,
            typed=typed.size.strip(),
            unit=typed.unit,
            value=value,
            tolerance=typed.tolerance.strip(),
            instrument=typed.instrument,
            with_what=typed.with_what.strip(),
            note=typed.note.strip(),
            photo=typed.photo,
            by=actor,
            event=event,
        )
        if waits_for_limits(taken) and _may_set(actor):
            _set(taken, actor)
        refresh(place.pk)
        return taken


def none_to_take(component: Component, actor, reason: str) -> None:
    """Nothing of it can or need be matched: it is lost already, or the drawing says all."""
    writing.allow(actor, "examine")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        place = _place_of(component)
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why no size of it is needed."))
        writing.log(actor, NONE, component=component, position=place, touches=False, remark=reason.strip())


def set_in_force(taken: TakenSize, actor) -> Limits:
    """The responsible engineer takes over the tolerance that somebody gave with a size."""
    writing.allow(actor, "edit limits")
    with writing.one_transaction():
        taken = TakenSize.objects.select_for_update(of=("self",)).get(pk=taken.pk)
        if not waits_for_limits(taken):
            raise Refused(Refusal("stale", "Its limits are set already.", "Look at the sizes of the place."))
        made = _set(taken, actor)
        refresh(taken.dimension.position_id)
        return made


def waits_for_limits(taken: TakenSize) -> bool:
    """It gave a tolerance of its own, and no edition was set by it or after it."""
    if not taken.dimension.for_successors or is_to_drawing(taken.tolerance):
        return False
    return not taken.dimension.editions.filter(set_at__gte=taken.event.at).exists()


def _may_set(actor) -> bool:
    try:
        writing.allow(actor, "edit limits")
    except Refused:
        return False
    return True


def _set(taken: TakenSize, actor) -> Limits:
    """As an edition of the limits, which says which piece it was taken from, and when."""
    piece, size = taken.component, taken.dimension
    code = piece.tags.current_code() or piece.name
    typed = Typed(
        drawing=to_be(taken.typed, taken.tolerance, taken.unit),
        source=f"taken from {code}, the piece it replaces",
        source_edition=f"{day(writing.today())}, no. {taken.pk}",
    )
    fields, _ = read(typed, unit=size.unit, wears=size.wears)
    kept = {"drawing": typed.drawing, "source": typed.source, "source_edition": typed.source_edition}
    edition = store_edition(size, actor, fields, **kept)
    writing.log(
        actor, "set limits", locomotive_id=size.position.locomotive_id, position_id=size.position_id,
        remark=f"{size}, edition {edition.edition}: {edition}",
    )  # fmt: skip
    return edition


def _place_of(component: Component) -> Position:
    place = component.place or component.came_off
    if place is None:
        raise Refused(Refusal("no-place", "It has no place, so nothing takes its place.", "Choose its place first."))
    if component.state == State.IN_THE_MAKING:
        raise Refused(Refusal("state", "It is being made itself.", "Sizes are taken from the piece it replaces."))
    return place


def _read(component, place, typed: SizeToTake) -> tuple[Fraction | None, list[Refusal]]:
    """The exact size, and everything that is wrong with what was told."""
    value, found = None, []
    if typed.what not in list(What):
        found.append(Refusal("what", "What is taken: nothing chosen.", f"Choose one of: {', '.join(What)}."))
    if typed.unit not in UNITS:
        found.append(Refusal("unit", "Unit: none chosen.", "Choose the unit that the drawing uses, mm or in."))
        return value, found
    try:
        value = parse_length(typed.size, typed.unit)
    except LengthError as error:
        found.append(Refusal("size", f"Size as read: {error}", "Correct it."))
    if value == 0:
        found.append(Refusal("size", "Size as read: it is nought.", "Write what was read."))
    found += _tolerance_troubles(place, typed, bool(value))
    if typed.instrument is None and not typed.with_what.strip():
        found.append(Refusal("instrument", "Taken with: nothing chosen.", "Choose the instrument, or write it."))
    if typed.instrument is not None and typed.instrument.found_out:
        sentence = f"{typed.instrument} was found out of true when it was last calibrated."
        found.append(Refusal("instrument", sentence, "Take another."))
    if typed.photo is not None and typed.photo.component_id != component.pk:
        found.append(Refusal("photo", "Photo: it shows something else.", "Choose one of this piece."))
    return value, found


def _tolerance_troubles(place, typed: SizeToTake, readable: bool):
    own = place.dimensions.in_use().for_all().filter(name=typed.named).exists()
    if own and typed.tolerance.strip() and not is_to_drawing(typed.tolerance):
        sentence = f"Tolerance: {typed.named} is a size of this place already, with limits of its own."
        yield Refusal("tolerance", sentence, "Leave it blank, or give what you take another name.")
    elif not own and not typed.tolerance.strip():
        cure = (
            "Write ±0.5 mm, or the size that the new one is to have with its tolerance, or “to drawing” and its number."
        )
        yield Refusal("tolerance", "Tolerance: nothing was written.", cure)
    elif readable and not own and not is_to_drawing(typed.tolerance):
        try:
            to_be(typed.size, typed.tolerance, typed.unit)
        except LengthError as error:
            yield Refusal("tolerance", f"Tolerance: {error}", "Correct it.")


def _dimension_for(place, typed: SizeToTake) -> Dimension:
    """The size of the place that bears this name; else a new one, which only a successor is measured for."""
    there = place.dimensions.in_use().filter(name=typed.named).first()
    if there:
        return there
    return Dimension.objects.create(
        position=place,
        name=typed.named,
        wears=Wears.EITHER.value,
        unit=typed.unit,
        note=typed.note.strip(),
        for_successors=True,
    )
