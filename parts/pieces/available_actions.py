"""What can be done to a piece from its page: the one next thing, everything else, and what is grey and why."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.domain.catalogue import CATALOGUE, Action
from core.domain.refusals import Refusal

from ..domain.fastening import Fastening
from ..domain.next_step import NextStep, label_of, next_step
from ..domain.rows import ActionContext
from ..domain.states import PagedAction, PieceAction, refusals, refusals_of, with_a_page
from ..domain.words import State

PAGES = {"repair": "repairs", "renewal": "renewals", "fit": "fits"}
NEVER_SHOWN_GREY = frozenset(
    {
        "role",
        "not-authorised",
        "state",
        "not-vouched",
        "not-built-up",
        "no-crack-check",
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
class AvailableActions:
    step: NextStep
    first: Button | None  # the next thing, if there is one
    for_others: str  # who may do it, when this person may not
    can: list[Button]
    soon: list[Button]  # grey, for a reason that somebody can mend
    never: list[Button]  # grey, because it is not the time for it or not this person's work


def available_actions(
    context: ActionContext, address: str, findings: dict[int, str], hold_href: str = "", held: Fastening | None = None
) -> AvailableActions:
    """Everything that the page offers. `findings` leads from an event to the page that decides on it, `held` says how
    a refitted piece is held."""
    step = next_step(context.place, context.this_piece, context.holds, context.waits, context.today, held)
    first = _first(step, context, address, findings, hold_href)
    others = [b for b in _buttons(context, address) if first is None or b.key != first.key]
    codes = {refusal.code for refusal in first.refusals} if first else set()
    return AvailableActions(
        step=step,
        first=first,
        for_others=_for_others(step, codes),
        can=[b for b in others if not b.refusals],
        soon=[b for b in others if b.refusals and not _hopeless(b)],
        never=[b for b in others if b.refusals and _hopeless(b)],
    )


def _for_others(step: NextStep, codes: set[str]) -> str:
    """Whose work the next thing is, where it is not the reader's."""
    if step.deed == "examine" and codes & {"role", "not-authorised"}:
        return "whoever is authorised to sign it"
    return in_words(CATALOGUE.who_may(step.deed)) if "role" in codes else ""


def problems_of(action: PieceAction, context: ActionContext) -> list[Refusal]:
    """Why the action may not be done, as far as it is known before the form has named the other piece."""
    return [refusal for refusal in refusals(action, context) if refusal.code != "no-other"]


def stopping(action: Action, context: ActionContext) -> list[Refusal]:
    """What greys the button: not what the responsible engineer may pass with a reason."""
    if not isinstance(action, PieceAction):
        return refusals_of(action, context)
    found = problems_of(action, context)
    if context.engineer and all(refusal.passable for refusal in found):
        return []
    return found


def in_words(roles: Iterable[str]) -> str:
    """'a fitter or a responsible engineer'."""
    named = [f"an {role}" if role[0] in "aeiou" else f"a {role}" for role in sorted(roles)]
    return " or ".join([", ".join(named[:-1]), named[-1]] if len(named) > 2 else named)


def address_of(word: str, address: str) -> str:
    action = CATALOGUE.action(word)
    if isinstance(action, PieceAction) and action.form:
        return f"{address}/do/{action.slug}"
    return f"{address}/{getattr(action, 'ending', word.replace(' ', '-'))}"


def _first(step, context, address, findings, hold_href) -> Button | None:
    if not step.deed:
        return None
    if step.deed == "move" and context.piece.state in (State.IN_PLACE, State.REFITTED):
        return None
    if step.deed == "hold" and not hold_href:
        return None
    to_read = step.deed in ("hold", "renewal") or (bool(step.target) and step.deed != "lift stop")
    against = () if to_read else tuple(stopping(CATALOGUE.action(step.deed), context))
    return Button(key=step.deed, label=label_of(step), href=_href(step, address, findings, hold_href), refusals=against)


def _href(step, address, findings, hold_href) -> str:
    if step.deed == "lift stop":
        return f"/holds/{step.target}/lift"
    if step.target:
        return f"/{PAGES[step.deed]}/{step.target}/"
    if step.deed == "hold":
        return hold_href
    if step.deed == "decide" and step.finding in findings:
        return findings[step.finding]
    href = address_of(step.deed, address)
    if step.deed == "examine" and step.kind:
        href = f"{href}?kind={step.kind.replace(' ', '+')}"
    return href


def _buttons(context: ActionContext, address: str) -> Iterator[Button]:
    paged = sorted((a for a in CATALOGUE if isinstance(a, PagedAction)), key=lambda a: (a.rank, a.word))
    for action in (*paged, *with_a_page()):
        yield Button(
            key=action.word,
            label=action.label,
            href=address_of(action.word, address),
            refusals=tuple(stopping(action, context)),
            danger=getattr(action, "danger", False),
        )


def _hopeless(button: Button) -> bool:
    return any(refusal.code in NEVER_SHOWN_GREY for refusal in button.refusals)
