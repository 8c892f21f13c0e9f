"""The writers of examinations and of what was decided of their findings."""

from datetime import date

from django.utils import timezone

from parts.actions import writing
from parts.actions.cases import case_for
from parts.actions.life import perform_within
from parts.domain.refusals import Refusal, Refused
from parts.domain.rows import Given
from parts.domain.states import refusals
from parts.domain.words import Action, Kind, Method, Result, State
from parts.models import Component

from .models import Examination, FindingDecision

LOOKED_AT = (State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED, State.REFITTED, State.IN_THE_MAKING)


def sign(
    component: Component,
    actor,
    *,
    kind: str,
    method: str = "",
    result: str,
    found: str = "",
    remarks: str = "",
    reached=(),
    not_reached=(),
    on: date | None = None,
    look_again: date | None = None,
    supersedes: Examination | None = None,
    seen: int | None = None,
) -> Examination:
    """Sign an examination of a piece. Signing the last one that crack-checked needs makes that step itself."""
    writing.allow(actor, "examine")
    on = on or writing.today()
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        trouble = list(_troubles(component, actor, kind, method, result, found, on, look_again, supersedes))
        if trouble:
            raise Refused(*trouble)
        event = writing.log(
            actor,
            "sign examination",
            component=component,
            position_id=component.place_id,
            from_state=component.state,
            to_state=component.state,
            remark=found or remarks,
            data={"kind": kind, "method": method, "result": result},
        )
        examination = Examination.objects.create(
            component=component,
            position_id=component.place_id,
            kind=kind,
            method=method,
            result=result,
            found=found.strip(),
            remarks=remarks.strip(),
            reached=sorted(reached),
            not_reached=sorted(not_reached),
            on=on,
            event=event,
            signed_by=actor,
            signed_at=timezone.now(),
            supersedes=supersedes,
        )
        _answer_look_again(component, result, look_again)
        component.save()
        writing.refresh(component.place_id)
        _step_if_last(component, actor)
        return examination


def _troubles(component, actor, kind, method, result, found, on, look_again, supersedes):
    if kind not in list(Kind):
        yield Refusal("kind", f"Kind: “{kind}” is not known.", f"Choose one of: {', '.join(Kind)}.")
        return
    methods = [m.value for m in Method if m is not Method.ANY]
    word = f"{kind}: {method}" if method else kind
    if kind == Kind.CRACK_CHECK and method not in methods:
        yield Refusal("method", "Method: none chosen.", f"Choose one of: {', '.join(methods)}.")
    elif kind != Kind.CRACK_CHECK and method:
        yield Refusal("method", f"Method: a {kind} examination has none.", "Leave it blank.")
    elif word not in actor.as_actor(writing.today()).authorised:
        yield Refusal(
            "not-authorised", f"You are not authorised to sign “{word}”, or no longer.", "Ask an examiner who is."
        )
    if result not in list(Result) or (result == Result.INDICATION and kind != Kind.CRACK_CHECK):
        yield Refusal("result", "Result: none chosen that fits the examination.", "Choose sound, or what was found.")
    if result != Result.SOUND and not found.strip():
        yield Refusal("found", "What was found: nothing was written.", "Say where, what shape and how long.")
    if on > writing.today():
        yield Refusal("on", "Examined on: the day is still to come.", "Give the day of the examination.")
    if look_again and look_again <= writing.today():
        yield Refusal("look-again", "Look again on: the day has passed.", "Give a later day, or leave it blank.")
    if component.state not in LOOKED_AT:
        yield Refusal("state", f"It is {component.state}, so it cannot be examined.", "Clean it first.")
    if supersedes is not None and (supersedes.component_id != component.pk or supersedes.kind != kind):
        yield Refusal("supersedes", "Supersedes: that is not an earlier record of the same kind.", "Choose another.")
    if supersedes is not None and hasattr(supersedes, "superseded_by"):
        yield Refusal("superseded", "Supersedes: that record was superseded already.", "Supersede the latest one.")


def _answer_look_again(component, result, look_again):
    """A sound look answers a look-again date that has passed, and may set the next."""
    if result == Result.SOUND and (look_again or (component.look_again and component.look_again <= writing.today())):
        component.look_again = look_again
    if result == Result.INDICATION:
        component.quarantined = True


def _step_if_last(component, actor):
    if component.state != State.CLEANED:
        return
    case = case_for(component, actor, given=Given(), order=False)
    if not refusals(Action.CRACK_CHECK, case):
        perform_within(Action.CRACK_CHECK, component, actor, Given())


def decide(examination: Examination, actor, *, decision: str, reason: str, seen: int | None = None) -> FindingDecision:
    """What becomes of a finding: decided by the responsible engineer, never by whoever did the work."""
    writing.allow(actor, "decide")
    with writing.one_transaction():
        component = writing.locked(examination.component_id)
        writing.not_stale(component, seen)
        trouble = list(_decision_troubles(examination, component, actor, decision, reason))
        if trouble:
            raise Refused(*trouble)
        event = writing.log(
            actor,
            "decide",
            component=component,
            position_id=component.place_id,
            remark=reason,
            data={"decision": decision, "examination": examination.pk},
        )
        component.save(update_fields=["last_event"])
        made = FindingDecision.objects.create(
            examination=examination,
            decision=decision,
            reason=reason.strip(),
            event=event,
            decided_by=actor,
            decided_at=event.at,
        )
        writing.refresh(component.place_id)
        return made


def _decision_troubles(examination, component, actor, decision, reason):
    if decision not in FindingDecision.Decision.values:
        yield Refusal(
            "decision", "Decision: none chosen.", f"Choose one of: {', '.join(FindingDecision.Decision.values)}."
        )
    if not reason.strip():
        yield Refusal("reason", "Reason: nothing was written.", "Say why, in a few words.")
    if examination.result == Result.SOUND:
        yield Refusal("sound", "This record found the piece sound.", "There is nothing to decide.")
    if hasattr(examination, "superseded_by"):
        yield Refusal("superseded", "This record was superseded.", "Decide on the one that superseded it.")
    case = case_for(component, actor, order=False)
    if actor.pk in case.piece.workers:
        yield Refusal("own-work", "You recorded work on this piece.", "Another responsible engineer decides.")
    if (
        decision == FindingDecision.Decision.ACCEPT
        and examination.kind == Kind.CRACK_CHECK
        and case.place
        and case.place.safety_critical
    ):
        yield Refusal(
            "cracked", "A crack in a safety-critical piece is never accepted as it is.", "Repair it or renew it."
        )
