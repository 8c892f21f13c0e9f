"""Built-up pieces: taken apart, open or shut, and changing places with what is in them."""

from core.domain.refusals import Refusal, Refused

from ..domain.states import after_change
from ..domain.words import Action, Origin, State
from ..models import Component, Position
from ..models.components import FITTED
from ..queries import loading
from ..tags.writers import issue
from . import writing

S = State


def break_down(component, event, given, before, other):
    """Every inner place gets its piece back at stripped: known ones keep their lives, the others get a tag now."""
    place, apart_already = component.place, component.broken_down
    component.broken_down, component.on_trial = True, False
    component.look_again, component.protection = None, ""
    touched = []
    for inner in place.inner.filter(retired=False).order_by("id"):
        touched.append(inner.pk)
        there = list(Component.objects.live().filter(place=inner))
        for piece in there:
            if piece.state in FITTED:
                _comes_out(piece, component, event)
        missing = inner.quantity - sum(piece.quantity for piece in there)
        if missing > 0 and not inner.known_empty and not apart_already:
            _appears(inner, component, event, missing)
    return touched


def _comes_out(piece, outer, event):
    stripped = writing.log(
        event.actor,
        Action.STRIP.value,
        component=piece,
        position_id=piece.place_id,
        from_state=piece.state,
        to_state=S.STRIPPED.value,
        remark=f"{outer.name} was broken down.",
    )
    piece.came_off_id, piece.fitted, piece.state = piece.fitted_id, None, S.STRIPPED
    piece.before_refit, piece.look_again, piece.protection, piece.left_alone = "", None, "", False
    piece.since, piece.bared_event, piece.location = writing.today(), stripped.pk, outer.location
    piece.save()


def _appears(inner, outer, event, quantity):
    keeps = inner.carries_identity
    piece = Component.objects.create(
        locomotive=outer.locomotive,
        name=inner.name,
        quantity=quantity,
        state=S.STRIPPED,
        since=writing.today(),
        side=inner.side,
        marks=outer.marks if keeps else "",
        origin=outer.origin if keeps else Origin.UNKNOWN,
        origin_evidence=outer.origin_evidence if keeps else "",
        owner=outer.owner,
        matched=inner.matched,
        came_off=inner,
        place=inner,
        location=outer.location,
    )
    appeared = writing.log(
        event.actor,
        Action.STRIP.value,
        component=piece,
        position_id=inner.pk,
        to_state=S.STRIPPED.value,
        remark=f"{outer.name} was broken down.",
    )
    piece.bared_event = appeared.pk
    piece.save()
    issue(piece, event.actor)


def change_places(component, event, given, before, other):
    """Both leave their places before either takes the other's, so that no place ever holds two."""
    mine, theirs = component.place, other.place
    other_ends = after_change(loading.load_places({"pk": mine.pk})[0], loading.load_pieces({"pk": other.pk})[0])
    other_event = writing.log(
        event.actor,
        Action.CHANGE_PLACES.value,
        component=other,
        position_id=mine.pk,
        from_state=other.state,
        to_state=other_ends.value,
        remark=given.reason,
    )
    Component.objects.filter(pk__in=(component.pk, other.pk)).update(place=None, state=S.STRIPPED)
    if other.state != other_ends:
        other.since = writing.today()
    other.state, other.place, component.place = other_ends, mine, theirs
    other.locomotive_id, component.locomotive_id = mine.locomotive_id, theirs.locomotive_id
    for piece in (component, other):
        piece.look_again, piece.protection = None, ""
    other.last_event = other_event.pk
    other.save()
    moved = _inner_pieces_follow(event, given, mine, theirs)
    return (mine.pk, theirs.pk, *moved)


def _inner_pieces_follow(event, given, mine, theirs):
    """What is in a broken-down piece goes where it goes."""
    pairs = [(mine, theirs), (theirs, mine)]
    moved = []
    for old, new in pairs:
        homes = {_within(new, place): place for place in new.inner.filter(retired=False).order_by("id")}
        for piece in Component.objects.live().filter(place__part_of=old).select_related("place"):
            home = homes.get(_within(old, piece.place))
            if home is None:
                raise Refused(
                    Refusal(
                        "inner-differ",
                        f"{new.words} has no place for {piece.place.words}.",
                        "Only built-up pieces with the same inner places change places.",
                    )
                )
            moved.append((piece, home, piece.state, piece.fitted_id))
    Component.objects.filter(pk__in=[piece.pk for piece, *_ in moved]).update(
        place=None, fitted=None, state=S.STRIPPED, on_trial=False
    )
    for piece, home, state, fitted in moved:
        piece.place, piece.state, piece.locomotive_id = home, state, home.locomotive_id
        piece.fitted = home if fitted else None
        writing.log(
            event.actor,
            Action.CHANGE_PLACES.value,
            component=piece,
            position=home,
            from_state=state,
            to_state=state,
            remark=given.reason,
        )
        piece.save()
    return [home.pk for _, home, *_ in moved]


def _within(outer: Position, inner: Position) -> tuple:
    """What tells an inner place from its neighbours in the same piece: not the side, axle and end of the whole."""
    told = ((getattr(inner, word).lower(), getattr(outer, word).lower()) for word in ("side", "axle", "end"))
    return inner.name.lower(), *("" if own == whole else own for own, whole in told)


def settle_opened(*places: Position | None) -> list[int]:
    """The places inside a built-up piece are awake while it is in pieces, and while what belongs in it lies loose.

    Called after the pieces have been saved; looks at these places and at those that they are part of. The ids of those
    that opened or shut.
    """
    there, changed = [place for place in places if place], []
    for pk in {place.pk for place in there} | {place.part_of_id for place in there if place.part_of_id}:
        around = Component.objects.exclude(state=S.WITHDRAWN).filter(place=pk)
        inside = Component.objects.live().filter(place__part_of=pk, fitted=None)
        opened = around.filter(broken_down=True).exists() or inside.exists()
        if Position.objects.filter(pk=pk).exclude(opened=opened).update(opened=opened):
            changed.append(pk)
    return changed


def is_open(place: Position | None) -> bool:
    """Whatever piece comes to this place takes the loose ones that wait inside it."""
    return place is not None and Component.objects.live().filter(place__part_of=place, fitted=None).exists()
