"""What becomes of what was found: decided by the responsible engineer, never by whoever did the work."""

from collections.abc import Iterable

from core.domain.refusals import Refusal, Refused
from parts import facts
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.domain.words import Kind, Result

from ..models import Examination, FindingDecision, Indication


def decide(
    examination: Examination,
    actor,
    *,
    decision: str,
    reason: str,
    indication: Indication | None = None,
    seen: int | None = None,
) -> FindingDecision:
    """What becomes of a finding, or of one indication among several; a later decision takes the place of an earlier."""
    writing.allow(actor, "decide")
    with writing.one_transaction():
        component = writing.locked(examination.component_id)
        writing.not_stale(component, seen)
        trouble = list(decision_troubles(examination, component, actor, decision, reason, indication))
        if trouble:
            raise Refused(*trouble)
        event = writing.log(
            actor,
            "decide",
            component=component,
            position_id=component.place_id,
            remark=reason,
            data={"decision": decision, "examination": examination.pk}
            | ({"indication": indication.number} if indication else {}),
        )
        component.save(update_fields=["last_event"])
        made = FindingDecision.objects.create(
            examination=examination,
            indication=indication,
            decision=decision,
            reason=reason.strip(),
            event=event,
            decided_by=actor,
            decided_at=event.at,
        )
        refresh(component.place_id)
        return made


def decide_each(
    examination: Examination, actor, decisions: Iterable[tuple[Indication | None, str, str]], *, seen: int | None = None
) -> list[FindingDecision]:
    """Several indications of one record, each with its decision and reason: all of them are decided, or none."""
    made = []
    with writing.one_transaction():
        for indication, decision, reason in decisions:
            one = decide(examination, actor, decision=decision, reason=reason, indication=indication, seen=seen)
            made.append(one)
            seen = None  # what follows is of the same breath
    return made


def decision_troubles(examination, component, actor, decision, reason, indication=None):
    """Why it may not be decided so; the page that offers the decisions asks the same."""
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
    case = facts.context(component, actor, order=False)
    if actor.pk in case.this_piece.workers:
        yield Refusal("own-work", "You recorded work on this piece.", "Another responsible engineer decides.")
    if indication is not None and indication.examination_id != examination.pk:
        yield Refusal("indication", "That indication is of another record.", "Decide it on its own record.")
    if decision == FindingDecision.Decision.ACCEPT:
        outside = examination.measurements.filter(outside=True, concessions__isnull=True).exists()
        shown = [indication] if indication else list(examination.indications.all())
        yield from acceptance_troubles(examination, case, shown, outside=outside)


def acceptance_troubles(examination, case, shown, *, outside: bool):
    """Why these indications may not stand as they are: what greys that choice, and what refuses it."""
    if outside:
        yield Refusal(
            "concession", "A size outside its limits is accepted under a concession only.", "Grant one, or repair it."
        )
    if case.place and case.place.safety_critical and _may_be_a_crack(examination, shown):
        yield Refusal(
            "cracked", "A crack in a safety-critical piece is never accepted as it is.", "Repair it or renew it."
        )


def _may_be_a_crack(examination, shown) -> bool:
    """Where nothing was marked one by one, whatever a crack check showed may be a crack."""
    if examination.kind != Kind.CRACK_CHECK:
        return False
    return not shown or any(one.crack for one in shown)
