"""The writer of decisions. Deciding is the action itself, in the same transaction under the same conditions; a
provisional decision only notes."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts import facts
from parts.actions import writing
from parts.actions.perform import perform
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.deciding import ACTIONS, Deciding, deciding_troubles
from parts.domain.job_words import Outcome, TimeUnit
from parts.domain.jobs import cost_troubles
from parts.domain.plain import capital
from parts.domain.rows import ActionInput
from parts.models import Component, Decision, Firm, Option, Photo, Position

from . import renewals, repairs


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """One option, as it was weighed."""

    what: str
    estimate: Decimal | None = None
    currency: str = "GBP"
    takes: int | None = None
    unit: str = TimeUnit.WEEKS.value
    firm: Firm | None = None
    who: str = ""
    risk: str = ""
    keeps: str = ""
    keeps_percent: int | None = None
    comes_to: str = ""  # the outcome that it leads to; the decision must say the same of the one chosen
    chosen: bool = False


@dataclass(frozen=True, kw_only=True)
class Following:
    """What the action that a decision is wants to know besides: of accepting and withdrawing, of a repair, of a
    renewal."""

    given: ActionInput = field(default_factory=ActionInput)
    repair: dict = field(default_factory=dict)  # method, what, firm, who, promised …
    route: str = ""
    quantity: int | None = None
    withdraw_now: bool = False  # renew: the old piece goes at once, by given.destination


def decide(
    actor,
    *,
    component: Component | None = None,
    position: Position | None = None,
    outcome: str,
    reason: str,
    provisional: bool = False,
    options: Iterable[Weighed] = (),
    examined: Iterable[Event] = (),
    photos: Iterable[Photo] = (),
    following: Following | None = None,
    seen: int | None = None,
) -> Decision:
    """Decide on a piece, or on a place that is known empty; it supersedes what stood before. Raises `Refused` with
    every reason, and writes nothing then."""
    following, options = following or Following(), list(options)
    with writing.one_transaction():
        component, position = _held(component, position, seen)
        examined, photos = list(examined), list(photos)
        case = _case(actor, component, position, outcome, provisional, reason)
        _refuse(case, component, position, options, examined, photos)
        event = writing.log(
            actor,
            "decision",
            component=component,
            position_id=position and position.pk,
            locomotive_id=component.locomotive_id if component else position.locomotive_id,
            remark=reason,
            data=_said(case, options, position),
        )
        if component is not None:
            component.save(update_fields=["last_event"])
        decision = _write(actor, event, component, position, outcome, provisional, reason, options, examined, photos)
        if not provisional:
            _follow(decision, actor, _carried(following, options))
        refresh(position.pk if position else None)
        return decision


def _held(component, position, seen):
    if component is None:
        return None, Position.objects.select_for_update(of=("self",)).get(pk=position.pk)
    component = writing.locked(component.pk)
    writing.not_stale(component, seen)
    return component, component.place


def _case(actor, component, position, outcome, provisional, reason) -> Deciding:
    known = facts.context(component, actor, order=False) if component else facts.load_place(position, actor)
    return Deciding(
        piece=known.piece,
        place=known.place,
        actor=known.actor,
        outcome=outcome,
        provisional=provisional,
        reason=reason,
    )


def _refuse(case, component, position, options, examined, photos):
    found = deciding_troubles(case)
    if found and found[0].code in ("role", "outcome"):
        raise Refused(*found)
    found += [refusal for number, option in enumerate(options, 1) for refusal in _option_troubles(number, option)]
    if sum(option.chosen for option in options) > 1:
        found.append(Refusal("options", "Ways: more than one is chosen.", "Choose one, or none."))
    found += [refusal for option in options if (refusal := _contradicts(option, case.outcome))]
    found += _rests_on(component, position, examined, photos)
    if component is None and position.pieces.live().exists() and position.quantity == 1:
        found.append(Refusal("filled", f"{capital(position.words)} is filled.", "Decide on its piece instead."))
    if found:
        raise Refused(*found)


def _contradicts(option: Weighed, outcome: str) -> Refusal | None:
    means = Outcome.ACCEPT if outcome == Outcome.CONCESSION else outcome
    if not option.chosen or option.comes_to in ("", means):
        return None
    sentence = f"The way chosen, “{option.what.strip()}”, comes to “{option.comes_to}”; decided is “{outcome}”."
    return Refusal("options", sentence, "Choose the same in both.")


def _option_troubles(number: int, option: Weighed) -> list[Refusal]:
    code, label = f"option-{number}", f"Way {number}"
    found = []
    if not option.what.strip():
        found.append(Refusal(code, f"{label}: nothing was written.", "Say what would be done."))
    if option.keeps_percent is not None and not 0 <= option.keeps_percent <= 100:
        found.append(Refusal(code, f"{label}: {option.keeps_percent} % is no share.", "Write 0 to 100."))
    if option.takes is not None and not 0 <= option.takes < 10_000:
        found.append(Refusal(code, f"{label}: the time it takes cannot be that.", "Write a number of days or weeks."))
    if option.unit not in list(TimeUnit):
        found.append(Refusal(code, f"{label}: the time has no unit.", f"Choose one of: {', '.join(TimeUnit)}."))
    for refusal in cost_troubles({"estimate": option.estimate}, option.currency):
        found.append(Refusal(code, f"{label}: {refusal.sentence}", refusal.cure))
    for refusal in jobs.too_long(_row(option)):
        found.append(Refusal(code, f"{label}: {refusal.sentence}", refusal.cure))
    return found


def _rests_on(component, position, examined, photos) -> list[Refusal]:
    """What it rests on is of this piece, or of its place."""
    found = []
    signings = Event.objects.filter(action="sign examination")
    own_records = signings.about("piece", component.pk).in_bulk([e.pk for e in examined]) if component else {}
    strange = [event for event in examined if event.pk not in own_records]
    if strange:
        cure = "Choose from those of this piece."
        found.append(Refusal("examined", "Examinations: one of them is not a signed record of this piece.", cure))
    own = {component and component.pk, None}
    if any(p.component_id not in own or p.position_id not in (position and position.pk, None) for p in photos):
        found.append(Refusal("photos", "Photos: one of them shows something else.", "Choose from those shown here."))
    return found


def _write(actor, event, component, position, outcome, provisional, reason, options, examined, photos) -> Decision:
    about = Decision.objects.about_piece(component) if component else Decision.objects.about_empty(position)
    decision = Decision.objects.create(
        component=component,
        position=position,
        outcome=outcome,
        provisional=provisional,
        reason=reason.strip(),
        event=event,
        decided_by=actor,
        at=event.at,
        supersedes=about.latest_standing(),
    )
    Option.objects.bulk_create(_row(option, decision) for option in options)
    decision.examined.set(examined)
    decision.photos.set(photos)
    return decision


def _row(option: Weighed, decision: Decision | None = None) -> Option:
    texts = {name: " ".join(getattr(option, name).split()) for name in ("what", "who", "keeps")}
    return Option(
        decision=decision,
        estimate=option.estimate,
        currency=option.currency,
        takes=option.takes,
        unit=option.unit,
        firm=option.firm,
        risk=option.risk.strip(),
        keeps_percent=option.keeps_percent,
        chosen=option.chosen,
        **texts,
    )


def _said(case: Deciding, options, position) -> dict:
    outcome = case.outcome
    data = {"outcome": outcome, "provisional": case.provisional}
    if may(case.actor.roles, "decide") and case.piece and case.actor.id not in case.piece.workers:
        data["decides_findings"] = True  # the responsible engineer, who did not do the work
    chosen = [option.what for option in options if option.chosen]
    if options:
        data |= {"weighed": len(options), "chosen": chosen[0] if chosen else ""}
    if position is not None and outcome in (Outcome.LEAVE, Outcome.RENEW):
        data["required"] = position.required
    return data


def _carried(following: Following, options: Iterable[Weighed]) -> Following:
    """What was weighed of the way chosen is not typed again for the repair, where that says nothing of its own."""
    way = next((option for option in options if option.chosen), None)
    if way is None or not following.repair:
        return following
    repair = dict(following.repair)
    repair["what"] = repair.get("what") or way.what
    if not (repair.get("firm") or repair.get("who")):
        repair |= {"firm": way.firm, "who": way.who}
    if way.estimate is not None and repair.get("estimate") is None:
        repair |= {"estimate": way.estimate, "currency": way.currency}
    return replace(following, repair=repair)


def _follow(decision: Decision, actor, following: Following) -> None:
    """The action that the decision is."""
    outcome, component, position = Outcome(decision.outcome), decision.component, decision.position
    given = _with_reason(following.given, decision.reason)
    if component is None:
        _follow_on_a_place(decision, actor, following)
    elif outcome is Outcome.REPAIR:
        repairs.open_within(component, actor, decision=decision, **following.repair)
    elif outcome is Outcome.RENEW:
        _renew(decision, actor, following, component)
        if following.withdraw_now:
            perform(ACTIONS[Outcome.WITHDRAW], component, actor, given)
    else:
        perform(ACTIONS[outcome], component, actor, given)
    if component is not None and position is not None and outcome is Outcome.RENEW:
        _require(position, True)


def _with_reason(given: ActionInput, reason: str) -> ActionInput:
    return given if given.reason else replace(given, reason=reason)


def _renew(decision, actor, following, component):
    if decision.position is None:
        cure = "Choose the place it is for first."
        raise Refused(Refusal("no-place", "It has no place yet, so nothing can be made for one.", cure))
    renewals.open_within(
        decision.position, actor, route=following.route, why=decision.reason, decision=decision,
        replaces=component, quantity=following.quantity or component.quantity,
    )  # fmt: skip


def _follow_on_a_place(decision, actor, following):
    """An empty place is renewed, or stays empty: then it is no longer required, until somebody decides otherwise."""
    if decision.outcome == Outcome.RENEW:
        _require(decision.position, True)
        renewals.open_within(
            decision.position, actor, route=following.route, why=decision.reason, decision=decision,
            quantity=following.quantity,
        )  # fmt: skip
        return
    if decision.position.renewals.under_way().exists():
        sentence = f"A renewal of {decision.position.words} is under way."
        raise Refused(Refusal("already-open", sentence, "Give that one up first."))
    _require(decision.position, False)


def _require(position: Position, required: bool) -> None:
    """A place that was left empty by a decision is required again when it is renewed after all; one that never was
    required stays as it is."""
    left = position.decisions.filter(component__isnull=True, outcome=Outcome.LEAVE.value, provisional=False)
    was = any(decision.event.data.get("required") for decision in left.select_related("event"))
    if position.required == required or (required and not was):
        return
    Position.objects.filter(pk=position.pk).update(required=required)
    position.required = required
