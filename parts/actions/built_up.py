"""Built-up pieces: taken apart, and changing places with what is in them."""

from ..domain.refusals import Refusal, Refused
from ..domain.words import Action, Origin, State
from ..models import Component, Position
from . import writing
from .tagging import issue

S = State


def break_down(component, event, given, before, other):
    """Every inner place gets its piece back at stripped: known ones keep their lives, the others get a tag now."""
    place = component.place
    component.broken_down, component.on_trial = True, False
    Position.objects.filter(pk=place.pk).update(opened=True)
    touched = []
    for inner in place.inner.filter(retired=False):
        touched.append(inner.pk)
        there = list(Component.objects.live().filter(place=inner))
        for piece in there:
            if piece.state == S.REFITTED:
                _comes_out(piece, component, event)
        missing = inner.quantity - sum(piece.quantity for piece in there)
        if missing > 0 and not inner.known_empty:
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
    other_event = writing.log(
        event.actor,
        Action.CHANGE_PLACES.value,
        component=other,
        position_id=mine.pk,
        from_state=other.state,
        to_state=after_change(other),
        remark=given.reason,
    )
    Component.objects.filter(pk__in=(component.pk, other.pk)).update(place=None, state=S.STRIPPED)
    other.state, other.place, component.place = after_change(other), mine, theirs
    other.last_event = other_event.pk
    other.save()
    _inner_pieces_follow(component, other, mine, theirs)
    return (mine.pk, theirs.pk)


def after_change(component) -> State:
    state = State(component.state)
    return S.CRACK_CHECKED if state in (S.ACCEPTED, S.RENEWED) else state


def _inner_pieces_follow(component, other, mine, theirs):
    """What is in a broken-down piece goes where it goes."""
    pairs = [(mine, theirs), (theirs, mine)]
    moved = []
    for old, new in pairs:
        homes = {(p.name.lower(), p.side, p.end.lower()): p for p in new.inner.filter(retired=False)}
        for piece in Component.objects.live().filter(place__part_of=old).select_related("place"):
            home = homes.get((piece.place.name.lower(), piece.place.side, piece.place.end.lower()))
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
        piece.place, piece.state = home, state
        piece.fitted = home if fitted else None
        piece.save(update_fields=["place", "state", "fitted", "on_trial"])
    mine.opened, theirs.opened = theirs.opened, mine.opened
    mine.save(update_fields=["opened"])
    theirs.save(update_fields=["opened"])
