"""Writers of hold points. A release names who gave it and on what paper; whether one is needed the local code says."""

from datetime import date

from ..domain.plain import day
from ..domain.refusals import Refusal, Refused
from ..domain.words import Action
from ..models import HoldPoint, Overhaul
from . import writing

STOPPABLE = tuple(a.value for a in Action if a not in (Action.CONFIRM, Action.CHANGE_PLACES))


def add_hold(
    overhaul: Overhaul,
    actor,
    *,
    name: str,
    stops,
    body: str,
    must_show: str = "",
    asked_on=None,
    subassembly=None,
    position=None,
    component=None,
) -> HoldPoint:
    """Stop the named actions on a piece, a position, a subassembly, or (none of these) the whole overhaul."""
    writing.allow(actor, "hold")
    stops = [action for action in STOPPABLE if action in stops]
    trouble = [
        Refusal(code, sentence, cure)
        for bad, code, sentence, cure in (
            (not name.strip(), "name", "Name: nothing was written.", "Say what must be shown or released."),
            (not stops, "stops", "Stops: no action chosen.", "Choose at least one action that it stops."),
            (not body.strip(), "body", "Released by: nobody named.", "Name the body or person who releases it."),
        )
        if bad
    ]
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        hold = HoldPoint.objects.create(
            overhaul=overhaul, name=name.strip(), stops=stops, body=body.strip(), must_show=must_show.strip(),
            asked_on=asked_on, subassembly=subassembly, position=position, component=component,
        )  # fmt: skip
        _log(actor, "add hold point", hold)
        _refresh(hold)
        return hold


def release(hold: HoldPoint, actor, *, reference: str, conditions: str = "", expires: date | None = None) -> None:
    """Record that the body released it, on what paper."""
    writing.allow(actor, "hold")
    if not reference.strip():
        raise Refused(
            Refusal(
                "reference", "Reference: nothing was written.", "Give the number or date of the paper that releases it."
            )
        )
    if expires and expires < writing.today():
        raise Refused(
            Refusal("expires", "Expires: the day has passed.", "Give today or a later day, or leave it blank.")
        )
    with writing.one_transaction():
        hold = HoldPoint.objects.select_for_update(of=("self",)).get(pk=hold.pk)
        if hold.released_on and not (hold.expires and hold.expires < writing.today()):
            raise Refused(
                Refusal(
                    "released", f"It was released on {day(hold.released_on)} already.", "There is nothing to release."
                )
            )
        hold.released_on, hold.released_by = writing.today(), actor
        hold.reference, hold.conditions, hold.expires = reference.strip(), conditions.strip(), expires
        hold.save()
        _log(actor, "release hold point", hold)
        _refresh(hold)


def _log(actor, action, hold):
    writing.log(
        actor,
        action,
        locomotive=hold.overhaul.locomotive,
        overhaul=hold.overhaul,
        subassembly=hold.subassembly,
        position=hold.position or (hold.component and hold.component.place),
        remark=hold.name,
        data={"hold": hold.pk, "stops": hold.stops, "reference": hold.reference},
    )


def _refresh(hold):
    writing.refresh(hold.position_id, hold.component and hold.component.place_id)
