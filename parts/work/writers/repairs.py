"""Writers of repairs. Finishing one is the action “finish repair”: the piece is examined again afterwards."""

from collections.abc import Sequence
from datetime import date

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.perform import perform
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.job_words import Ending, RepairMethod
from parts.domain.plain import day
from parts.domain.rows import ActionInput
from parts.domain.states import stopped
from parts.models import Component, HoldPoint, Repair
from parts.stock import writers as stock
from parts.work.actions import against_repair

OWN = ("method", "what", "hours", "let_in", "let_in_kg", "procedure", "welder")
FIELDS = (*OWN, *jobs.JOB)
AT_THE_END = ("hours", "actual", "currency", "let_in", "let_in_kg", "done")


def open_repair(
    component: Component,
    actor,
    *,
    method: str,
    what: str,
    promised: date | None = None,
    decision=None,
    seen: int | None = None,
    **entered,
) -> Repair:
    """Set a repair of this piece going; until it is done the piece needs `repair`."""
    with writing.one_transaction():
        _not_stopped(component)
        return open_within(
            component, actor, method=method, what=what, promised=promised, decision=decision, seen=seen, **entered
        )


def _not_stopped(component: Component) -> None:
    """A stop is on all work. The engineer, who lifts it, may still decide that the piece is repaired."""
    for hold in HoldPoint.objects.stops_on_piece(component):
        raise Refused(stopped(hold.stopped_by, hold.name, hold.body))


def open_within(component, actor, *, method, what, promised=None, decision=None, seen=None, **entered) -> Repair:
    """As `open_repair`, inside a transaction that the caller has opened."""
    writing.allow(actor, "repair")
    component = writing.locked(component.pk)
    writing.not_stale(component, seen)
    repair = Repair(component=component, decision=decision, opened=writing.today(), promised=promised)
    jobs.fill(repair, {"method": method, "what": what, **entered}, FIELDS)
    barred = against_repair(component)
    found = [*([barred] if barred else []), *_described(repair), *jobs.troubles(repair)]
    if found:
        raise Refused(*found)
    repair.promised = None
    repair.save()
    event = _log(actor, "open repair", repair, component, jobs.costs_of(repair) | {"method": repair.method})
    if promised:
        jobs.promise(repair, promised, "", event, actor)
    repair.last_event = event.pk
    repair.save()
    component.save(update_fields=["last_event"])
    refresh(component.place_id)
    return repair


def edit_repair(repair: Repair, actor, *, seen: int | None = None, **entered) -> None:
    """Change what is known of an open repair, or what a finished one cost in the end."""
    jobs.allow_any(actor, "repair", "renew")
    with writing.one_transaction():
        repair, component = _both(repair, seen)
        allowed = FIELDS if repair.ended == Ending.OPEN else ("actual", "committed", "estimate", "currency", "hours")
        changed = jobs.fill(repair, {k: v for k, v in entered.items() if k in allowed}, FIELDS)
        found = [*_described(repair), *jobs.troubles(repair)]
        if found:
            raise Refused(*found)
        if not changed:
            return
        event = _log(actor, "edit repair", repair, component, changed)
        repair.last_event = event.pk
        repair.save()
        component.save(update_fields=["last_event"])
        refresh(component.place_id)


def promise_repair(repair: Repair, actor, *, new: date | None, why: str = "", seen: int | None = None) -> None:
    """Note the day by which it is promised now; the day promised before stays on record."""
    jobs.allow_any(actor, "repair", "renew")
    with writing.one_transaction():
        repair, component = _both(repair, seen)
        found = [*_open(repair), *jobs.promise_refused(repair, new, why)]
        if found:
            raise Refused(*found)
        change = {"old": jobs.plain(repair.promised), "new": jobs.plain(new)}
        event = _log(actor, "promise", repair, component, change, remark=why)
        jobs.promise(repair, new, why, event, actor)
        repair.last_event = event.pk
        repair.save()
        component.save(update_fields=["last_event"])
        refresh(component.place_id)


def finish_repair(
    repair: Repair,
    actor,
    *,
    work: str,
    who: str = "",
    procedure: str = "",
    welder: str = "",
    override: str = "",
    bond: str = "",
    plates: Sequence[Component] = (),
    seen: int | None = None,
    **entered,
):
    """The work is done: the piece goes back to stripped, and what was signed before counts no longer. `plates` are what
    was cut from plate or bar and let into it."""
    with writing.one_transaction():
        repair, component = _both(repair, None)
        writing.not_stale(component, seen)
        found = _open(repair)
        if found:
            raise Refused(*found)
        entered.setdefault("done", writing.today())
        if plates and not entered.get("let_in"):
            entered["let_in"] = stock.numbers_of(plates)
        told = {"procedure": procedure, "welder": welder}
        changed = jobs.fill(repair, entered | told, (*AT_THE_END, *told))
        found = jobs.troubles(repair)
        if found:
            raise Refused(*found)
        repair.save()
        if changed.keys() & {*jobs.COSTS, "hours"}:
            _log(actor, "edit repair", repair, component, changed)
            component.save(update_fields=["last_event"])
        given = ActionInput(
            work=work, who=who or repair.by_words, procedure=procedure, welder=welder, override=override,
            repair=repair.pk, more={"bond": bond.strip()},
        )  # fmt: skip
        stock.let_in(plates, component, actor)
        return perform("finish repair", component, actor, given)


def give_up_repair(repair: Repair, actor, *, reason: str, seen: int | None = None) -> None:
    """It will not be done after all; what it cost and how it slipped stays."""
    writing.allow(actor, "repair")
    with writing.one_transaction():
        repair, component = _both(repair, seen)
        found = _open(repair)
        if not reason.strip():
            found.append(Refusal("reason", "Reason: nothing was written.", "Say why it is given up."))
        if found:
            raise Refused(*found)
        event = _log(actor, "give up repair", repair, component, {}, remark=reason)
        repair.ended, repair.ended_on = Ending.GIVEN_UP.value, writing.today()
        repair.why_ended, repair.last_event = reason.strip()[:300], event.pk
        repair.save()
        component.save(update_fields=["last_event"])
        refresh(component.place_id)


def _described(repair):
    if repair.method not in list(RepairMethod):
        yield Refusal("method", "Method: none chosen.", f"Choose one of: {', '.join(RepairMethod)}.")
    if not repair.what:
        yield Refusal("what", "What is done: nothing was written.", "Say in a few words what is done to it.")


def _open(repair) -> list[Refusal]:
    if repair.ended == Ending.OPEN:
        return []
    sentence = f"This repair was {repair.ended} on {day(repair.ended_on)}."
    return [Refusal("ended", sentence, "Open another one if there is more to do.")]


def _both(repair, seen):
    """The repair and its piece, held against other writers; the piece first, as everywhere."""
    component = writing.locked(repair.component_id)
    repair = Repair.objects.select_for_update(of=("self",)).get(pk=repair.pk)
    jobs.not_stale(repair, seen)
    return repair, component


def _log(actor, action, repair, component, data, remark=""):
    return writing.log(
        actor,
        action,
        component=component,
        position_id=component.place_id,
        remark=remark,
        data={"repair": repair.pk, "what": repair.what, **data},
    )
