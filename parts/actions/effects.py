"""What each action changes on the rows besides the state. Each returns the ids of further places to look at again."""

from collections.abc import Callable

from core.domain.refusals import Refusal, Refused

from ..domain.way_words import Ending
from ..domain.words import Action, State
from ..models import Component
from ..queries import loading
from ..work.writers.renewals import locked, settle
from . import writing
from .built_up import break_down, change_places, is_open

S = State


def nothing(component, event, given, before, other):
    return ()


def _comes_loose(component):
    """A piece that was fitted in another lies where that one lies, until it is carried away."""
    place = component.fitted
    component.fitted = None
    if place and place.part_of_id and component.location_id is None:
        outer = Component.objects.live().filter(place=place.part_of_id).first()
        component.location = outer.location if outer else None


def _strip(component, event, given, before, other):
    if component.fitted_id:
        component.came_off_id = component.fitted_id
    _comes_loose(component)
    component.left_alone = False
    component.before_refit = component.protection = ""
    component.look_again = None


def _clean(component, event, given, before, other):
    component.cleaned_event = event.pk


def _accept(component, event, given, before, other):
    component.protection, component.look_again = given.protection, given.look_again
    component.quarantined = False


def _pass(component, event, given, before, other):
    _accept(component, event, given, before, other)
    component.matched = component.place.matched
    if component.renewal_id:
        component.save()  # its route may close now, which looks at what has been passed
        settle(locked(component.renewal), event.actor)
    return _send_set_back(component, event)


def _send_set_back(component, event):
    """Renewing one of a matched set sends the others back: they are machined together again."""
    if not component.place.matched:
        return ()
    mates = Component.objects.filter(
        place__matched=component.place.matched, place__locomotive=component.place.locomotive, place__retired=False
    ).exclude(pk=component.pk)
    touched = []
    for mate in mates.select_for_update():
        if mate.state == S.REFITTED:
            raise Refused(
                Refusal(
                    "set-fitted", f"{mate.name}, machined together with it, is refitted.", "Take that one off first."
                )
            )
        if mate.state not in (S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED):
            continue
        sent = writing.log(
            event.actor,
            Action.SEND_BACK.value,
            component=mate,
            position_id=mate.place_id,
            from_state=mate.state,
            to_state=S.CLEANED.value,
            remark=f"{component.name}, machined together with it, was renewed.",
        )
        mate.state, mate.since, mate.bared_event, mate.on_trial = S.CLEANED, writing.today(), sent.pk, False
        mate.look_again, mate.protection = None, ""
        mate.save()
        touched.append(mate.place_id)
    return touched


def _refit(component, event, given, before, other):
    component.fitted, component.before_refit, component.on_trial = component.place, before, False
    if component.place.part_of_id:
        component.location = None
        return _lend_identity(component)
    component.location = getattr(component.place.locomotive, "location", None)


def _lend_identity(component):
    """A wheelset is known by its axle: with another axle it is another wheelset."""
    if not component.place.carries_identity:
        return ()
    outer = Component.objects.live().filter(place=component.place.part_of_id).first()
    if outer:
        outer.marks, outer.origin, outer.owner = component.marks, component.origin, component.owner
        outer.origin_evidence = component.origin_evidence
        outer.save(update_fields=["marks", "origin", "owner", "origin_evidence"])
    return ()


def _offer_up(component, event, given, before, other):
    component.on_trial = True


def _take_off(component, event, given, before, other):
    _comes_loose(component)
    component.on_trial = False
    component.before_refit = ""


def _leave_alone(component, event, given, before, other):
    component.fitted, component.left_alone = component.place, True


def _send_back(component, event, given, before, other):
    component.look_again, component.protection = None, ""


def _finish_repair(component, event, given, before, other):
    _send_back(component, event, given, before, other)
    _close_repair(component, event, given)
    if given.procedure or given.welder:
        component.welded_event = event.pk


def _close_repair(component, event, given):
    """The repair that was open is done; of several, the one that was named."""
    left = list(component.repairs.under_way().select_for_update())
    done = [repair for repair in left if repair.pk == given.repair] if given.repair else left
    if len(done) > 1:
        named = "; ".join(repair.what for repair in done[:3])
        raise Refused(Refusal("repair", f"Several repairs are open: {named}.", "Finish each on its own page."))
    for repair in done:
        _end(repair, Ending.DONE, event)
        repair.done, repair.done_event = repair.done or writing.today(), event
        repair.save()


def _end(repair, how, event, why=""):
    repair.ended, repair.ended_on, repair.why_ended = how.value, writing.today(), why
    repair.last_event = event.pk


def _withdraw(component, event, given, before, other):
    for repair in component.repairs.under_way().select_for_update():
        _end(repair, Ending.GIVEN_UP, event, "the piece was withdrawn")
        repair.save()
    component.destination = given.destination
    component.left_alone = False
    _comes_loose(component)
    if component.quarantined or _is_cracked(component):
        component.quarantined = True


def _bring_back(component, event, given, before, other):
    component.destination = ""
    place = component.place
    if place and (place.retired or sum(c.quantity for c in place.pieces.live()) + component.quantity > place.quantity):
        component.place = None
    if not component.broken_down:
        component.broken_down = is_open(component.place)


def _confirm(component, event, given, before, other):
    component.confirmed = True


def _is_cracked(component) -> bool:
    found = loading.load_pieces({"pk": component.pk})
    return bool(found) and found[0].cracked


EFFECTS: dict[Action, Callable] = {
    Action.STRIP: _strip,
    Action.BREAK_DOWN: break_down,
    Action.CLEAN: _clean,
    Action.ACCEPT: _accept,
    Action.PASS: _pass,
    Action.REFIT: _refit,
    Action.OFFER_UP: _offer_up,
    Action.TAKE_OFF: _take_off,
    Action.LEAVE_ALONE: _leave_alone,
    Action.SEND_BACK: _send_back,
    Action.FINISH_REPAIR: _finish_repair,
    Action.WITHDRAW: _withdraw,
    Action.BRING_BACK: _bring_back,
    Action.CHANGE_PLACES: change_places,
    Action.CONFIRM: _confirm,
}
