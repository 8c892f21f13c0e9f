"""What can be done to a piece from its page: the one next thing, everything else, and what is grey and why."""

from dataclasses import dataclass
from datetime import date

from core.domain.refusals import Refusal
from core.roles import who_may

from ..domain.next_step import NextStep, next_step
from ..domain.other_deeds import OTHER_DEEDS, ROLE_OF, other_refusals
from ..domain.states import Case, refusals
from ..domain.words import Action, Kind, Need, State

LABELS = {
    Action.STRIP: "Strip it",
    Action.BREAK_DOWN: "Break it down",
    Action.CLEAN: "Mark it cleaned",
    Action.CRACK_CHECK: "Mark it crack-checked",
    Action.ACCEPT: "Accept it",
    Action.PASS: "Pass it",
    Action.FINISH_REPAIR: "Finish a repair",
    Action.REFIT: "Refit it",
    Action.OFFER_UP: "Offer it up",
    Action.TAKE_OFF: "Take it off",
    Action.LEAVE_ALONE: "Leave it alone this time",
    Action.SEND_BACK: "Send it back",
    Action.WITHDRAW: "Withdraw it",
    Action.BRING_BACK: "Bring it back",
    Action.CHANGE_PLACES: "Change places",
    Action.CONFIRM: "Put your name to it",
    "move": "Move it",
    "describe": "Write down what you see",
    "examine": "Sign an examination",
    "earmark": "Choose its place",
    "split lot": "Split the lot",
    "tie tag": "Tie another tag",
    "decide": "Decide what was found",
    "hold": "See the hold point",
    "fit": "See what to make for the pair",
    "weigh": "Decide on it",
    "repair": "Begin a repair",
    "renewal": "Go on with the renewal",
    "cut": "Cut from it",
    "reproduce": "Take the sizes that the new one must match",
}
KIND_LABELS = {
    Kind.CRACK_CHECK: "Sign the crack check",
    Kind.VISUAL: "Sign the visual examination",
    Kind.DIMENSIONAL: "Sign the measurements",
    Kind.THICKNESS: "Sign the thickness survey",
    Kind.HYDRAULIC_TEST: "Sign the hydraulic test",
    Kind.CALIBRATION: "Sign the calibration",
    Kind.SET_PRESSURE: "Sign the set pressure",
    Kind.SPRING_TEST: "Sign the spring test",
    Kind.PRESSURE_TEST: "Sign the pressure test",
}
WHERE_LABELS = {
    Need.FIND: "Say where it lies",
    Need.FETCH: "It is back: say where it lies",
    Need.AWAIT: "It is back: say where it lies",
}
WAYS = {"repair": "repairs", "renewal": "renewals", "fit": "fits"}
ENDINGS = {"earmark": "place", "split lot": "split", "tie tag": "tie", "hold": "holds", "weigh": "decide"}
ON_A_PIECE = tuple(action for action in Action if action is not Action.START_ON)
NEVER_SHOWN_GREY = frozenset(
    {
        "role",
        "not-authorised",
        "state",
        "not-vouched",
        "not-built-up",
        "not-up",
        "left-alone",
        "quantity",
        "already-apart",
        "not-stock",
    }
)
"""Refusals that only say it is the wrong moment, sort of piece or person: told in the fold, not beside the rest."""


@dataclass(frozen=True, kw_only=True)
class Button:
    """One thing to press. With refusals it is grey and says why."""

    key: str
    label: str
    href: str = ""
    refusals: tuple[Refusal, ...] = ()
    danger: bool = False


@dataclass(frozen=True, kw_only=True)
class Doing:
    step: NextStep
    first: Button | None  # the next thing, if there is one
    for_others: str  # who may do it, when this person may not
    can: list[Button]
    soon: list[Button]  # grey, for a reason that somebody can mend
    never: list[Button]  # grey, because it is not the time for it or not this person's work


def doing(case: Case, address: str, findings: dict[int, str], hold_href: str = "") -> Doing:
    """Everything that the page offers, from one case. `findings` leads from an event to the page that decides on it."""
    step = next_step(case.place, case.piece, case.holds, case.waits, case.today)
    first = _first(step, case, address, findings, hold_href)
    others = [b for b in _buttons(case, address) if first is None or b.key != first.key]
    barred = bool(first) and any(refusal.code == "role" for refusal in first.refusals)
    return Doing(
        step=step,
        first=first,
        for_others=in_words(who_may(_role_deed(step.deed))) if barred else "",
        can=[b for b in others if not b.refusals],
        soon=[b for b in others if b.refusals and not _hopeless(b)],
        never=[b for b in others if b.refusals and _hopeless(b)],
    )


def standing_against(action: Action, case: Case) -> list[Refusal]:
    """Why the action may not be done, as far as it is known before the form has named the other piece."""
    return [refusal for refusal in refusals(action, case) if refusal.code != "no-other"]


def stopping(action: Action, case: Case) -> list[Refusal]:
    """What greys the button: not what the responsible engineer may pass with a reason."""
    found = standing_against(action, case)
    if case.engineer and all(refusal.passable for refusal in found):
        return []
    return found


def in_words(roles: list[str]) -> str:
    """'a fitter or a responsible engineer'."""
    named = [f"an {role}" if role[0] in "aeiou" else f"a {role}" for role in roles]
    return " or ".join([", ".join(named[:-1]), named[-1]] if len(named) > 2 else named)


def address_of(deed: str, address: str) -> str:
    if deed in list(Action):
        return f"{address}/do/{deed.replace(' ', '-')}"
    return f"{address}/{ENDINGS.get(deed, deed)}"


def refusals_of(deed: str, case: Case) -> list[Refusal]:
    return stopping(Action(deed), case) if deed in list(Action) else other_refusals(deed, case)


def label_of(step: NextStep) -> str:
    """What the button of the next thing says."""
    if step.deed == "examine" and step.kind:
        return KIND_LABELS[step.kind]
    if step.deed == "move":
        return WHERE_LABELS.get(step.need, LABELS["move"])
    if step.deed == "repair" and step.way:
        return "Go on with the repair"
    return LABELS[step.deed]


def then(case: Case) -> str:
    """What follows something that was done, in one sentence: the next thing, or that nothing can be done yet."""
    step = next_step(case.place, case.piece, case.holds, case.waits, case.today)
    if not step.deed or step.need is Need.AFTER:
        return step.sentence
    label = label_of(step)
    return f"Next: {label[0].lower()}{label[1:]}."


def _first(step, case, address, findings, hold_href):
    if not step.deed:
        return None
    if step.deed == "move" and case.piece.state in (State.IN_PLACE, State.REFITTED):
        return None
    if step.deed == "hold" and not hold_href:
        return None
    href = address_of(step.deed, address)
    if step.deed == "examine" and step.kind:
        href = f"{href}?kind={step.kind.replace(' ', '+')}"
    href = {"decide": findings.get(step.finding, href), "hold": hold_href}.get(step.deed, href)
    to_read = step.deed in ("hold", "renewal") or bool(step.way)
    if step.way:
        href = f"/{WAYS[step.deed]}/{step.way}/"
    against = () if to_read else tuple(refusals_of(step.deed, case))
    return Button(key=step.deed, label=label_of(step), href=href, refusals=against)


def _buttons(case, address):
    for deed in (*OTHER_DEEDS, *ON_A_PIECE):
        yield Button(
            key=deed,
            label=LABELS[deed],
            href=address_of(deed, address),
            refusals=tuple(refusals_of(deed, case)),
            danger=deed == Action.WITHDRAW,
        )


def _hopeless(button):
    return any(refusal.code in NEVER_SHOWN_GREY for refusal in button.refusals)


def _role_deed(deed: str) -> str:
    return ROLE_OF.get(deed, deed) or "describe"


def look_again_default(today: date) -> date:
    """A year on; the 29th of February is looked at again on the 28th."""
    day = 28 if (today.month, today.day) == (2, 29) else today.day
    return date(today.year + 1, today.month, day)
