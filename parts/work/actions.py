"""The ways back: decisions, repairs, renewals with their steps and promises, and the firms that do the work."""

from collections.abc import Callable
from datetime import date

from core.domain.catalogue import Action, EventType, Logged, Shape
from core.domain.refusals import Refusal
from core.roles import BENCH, ENGINEER, EXAMINERS, MANAGER, OFFICE
from parts.actions.finish_repair import FINISH_REPAIR
from parts.domain.deciding import in_words
from parts.domain.plain import capital, changed, day
from parts.domain.rows import ActionContext, Piece
from parts.domain.states import PagedAction, no_stop
from parts.domain.words import State
from parts.models import Component
from parts.models.money import COSTS

S = State


def of_firm(past: str) -> Callable[[Logged], str]:
    def told(event: Logged) -> str:
        fields = changed({name: change for name, change in event.data.items() if name != "firm"})
        return f"{past}: {fields}." if fields else f"{past}."

    return told


FIELD = (str, int, bool, list, type(None))
SUMS: Shape = dict.fromkeys((*COSTS, "currency"), FIELD)
JOB: Shape = {**SUMS, **dict.fromkeys(("firm", "who", "ordered", "done", "promised"), FIELD)}
PROMISED: Shape = {"what": str, "step": str, "old": (str, type(None)), "new": (str, type(None))}
REPAIR: Shape = {
    **JOB,
    **PROMISED,
    **dict.fromkeys(("repair", "method", "hours", "let_in", "let_in_kg", "procedure", "welder", "work"), FIELD),
}
RENEWAL: Shape = {"renewal": int, "route": str, "quantity": int, "pattern": (int, type(None)), "what": str}
STEP: Shape = {**JOB, **PROMISED, **RENEWAL, **dict.fromkeys(("papers", "note", "name", "number"), FIELD)}


def may_be_decided_on(context: ActionContext) -> Refusal | None:
    return _is_no_old_piece(context.this_piece)


def may_be_repaired(context: ActionContext) -> Refusal | None:
    return no_stop(context) or against_repair(context.this_piece)


def against_repair(piece: Piece | Component) -> Refusal | None:
    """Why no repair of it can be begun now."""
    if refusal := _is_no_old_piece(piece):
        return refusal
    if piece.state not in FINISH_REPAIR.starts:
        return Refusal("state", f"It is {piece.state}.", "Strip it first: only a piece in hand is repaired.")
    if piece.on_trial:
        return Refusal("on-trial", "It is offered up.", "Take it off first.")
    return None


def _is_no_old_piece(piece: Piece | Component) -> Refusal | None:
    if piece.state == S.WITHDRAWN:
        return Refusal("state", "It is withdrawn already.", "Bring it back first.")
    if piece.state == S.IN_THE_MAKING:
        return Refusal("state", "It is in the making.", "Its renewal goes on, or its step fails.")
    return None


def decided(event: Logged) -> str:
    data = event.data
    lead = in_words(data.get("outcome", ""), provisional=bool(data.get("provisional")))
    return f"{lead} Of {data['weighed']} ways weighed, chosen: {data['chosen']}." if data.get("chosen") else lead


def promised(event: Logged) -> str:
    old, new = (date.fromisoformat(event.data[n]) if event.data.get(n) else None for n in ("old", "new"))
    what = capital(event.data.get("step") or event.data.get("what") or "it")
    if new is None:
        return f"{what}: no date promised."
    return f"{what}: promised for {day(new)}{f', and before that for {day(old)}' if old else ''}."


def of_a_repair(past: str):
    def tell(event: Logged) -> str:
        what = event.data.get("what", "")
        method = event.data.get("method")
        return (
            f"{past}. {capital(f'{method}: {what}' if isinstance(method, str) and method else what)}."
            if what
            else f"{past}."
        )

    return tell


def of_a_step(past: str):
    def tell(event: Logged) -> str:
        lead = f"{past}. {capital(event.data['step'])}." if event.data.get("step") else f"{past}."
        back = event.data.get("back_to")
        return f"{lead} The route goes back to “{back}”." if back else lead

    return tell


def begun(event: Logged) -> str:
    return f"Renewal begun. {capital(event.data['route'])}." if event.data.get("route") else "Renewal begun."


def pattern_chosen(event: Logged) -> str:
    return f"What it is cast from chosen. {capital(event.data.get('what') or 'none')}."


DECIDE_ON = PagedAction(
    word="decide on",
    rank=30,
    roles=EXAMINERS | BENCH | MANAGER,
    label="Decide on it",
    ending="decide",
    check=may_be_decided_on,
    events=(
        EventType(
            word="decision",
            data={
                "outcome": str,
                "provisional": bool,
                "decides_findings": bool,
                "weighed": int,
                "chosen": str,
                "required": bool,
            },
            tell=decided,
            signed=True,
        ),
    ),
)
PROMISE = EventType(word="promise", past="Promised", data={**STEP, **REPAIR}, tell=promised)
REPAIR_IT = PagedAction(
    word="repair",
    rank=40,
    roles=BENCH,
    label="Begin a repair",
    ending="repair",
    check=may_be_repaired,
    events=(
        EventType(word="open repair", data=REPAIR, tell=of_a_repair("Repair begun")),
        EventType(word="edit repair", data=REPAIR, tell=of_a_repair("Repair put right")),
        EventType(word="give up repair", data=REPAIR, tell=of_a_repair("Repair given up")),
        PROMISE,
    ),
)
RENEW = Action(
    word="renew",
    roles=OFFICE,
    events=(
        EventType(word="open renewal", data=RENEWAL, tell=begun),
        EventType(word="close renewal", past="Renewal closed", data=RENEWAL),
        EventType(word="give up renewal", past="Renewal given up", data=RENEWAL),
        EventType(word="choose pattern", data=RENEWAL, tell=pattern_chosen),
        EventType(word="add step", data=STEP, tell=of_a_step("Step added")),
        EventType(word="edit step", data=STEP, tell=of_a_step("Step put right")),
        EventType(word="finish step", data={**STEP, "override": str, "passed_over": list}, tell=of_a_step("Step done")),
        EventType(word="drop step", data=STEP, tell=of_a_step("Step not needed")),
        EventType(
            word="fail step",
            data={**STEP, "back_to": str, "blank": (int, type(None)), "again": list},
            tell=of_a_step("Step failed"),
        ),
        EventType(word="edit route", past="Route changed", data={"route": str, "steps": list, "as supplied": bool}),
        EventType(word="retire route", past="Route no longer offered", data={"route": str}),
        EventType(word="replaces", past="Recorded which piece it replaces", data={"replaces": list}),
    ),
)
EDIT_FIRMS = Action(
    word="edit firms",
    roles=MANAGER,
    events=tuple(
        EventType(
            word=word,
            past=past,
            tell=of_firm(past),
            data={
                "firm": int,
                **dict.fromkeys(
                    ("name", "contact", "phone", "email", "address", "does", "note", "trade", "lies at"), FIELD
                ),
            },
        )
        for word, past in (
            ("add firm", "Firm entered"),
            ("edit firm", "Firm put right"),
            ("retire firm", "Firm no longer used"),
            ("use firm again", "Firm used again"),
        )
    ),
)
CALL_FIRM = Action(
    word="call firm",
    roles=OFFICE,
    label="Note a call or letter",
    done="Noted",
    events=(
        EventType(
            word="call firm",
            past="Called or written to",
            data={"firm": int, **dict.fromkeys(("on", "how", "who", "about", "promised"), str)},
            undoable=True,
        ),
    ),
)
DECIDE = Action(word="decide", roles=ENGINEER)  # the responsible engineer's: what was found, concessions, drawings
