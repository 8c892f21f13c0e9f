"""What cannot be done to a piece now, and the next steps with the names of those who may do them."""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import CATALOGUE, who_may
from core.models import Person
from parts import facts
from parts.actions import writing
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404
from parts.domain.next_step import NextStep, label_of, steps_to_go
from parts.domain.ranking import in_words, who_acts, who_may_do
from parts.domain.rows import ActionContext, Actor
from parts.domain.words import State

from ..available_actions import available_actions
from ..available_actions import in_words as roles_in_words
from .piece import decisions, holds_address, how_held, look_of_step

STEPS = 2
"""So many of the steps to come are told."""


@require_safe
@signed_in
def why(request, code):
    component = component_or_404(code)
    case = facts.context(component, request.user, order=component.state in (State.ACCEPTED, State.RENEWED))
    doing = available_actions(
        case, reverse("tag", args=[code]), decisions(component, case), holds_address(component), how_held(component)
    )
    page = {
        "page": f"Why can I not …? {component.name}, {code}",
        "crumbs": way_back(component, code, "Why can I not …?"),
        "piece": component,
        "code": code,
        "doing": doing,
        "steps": _steps(doing, case, request.user),
        "refused": [button for button in (*doing.soon, *doing.never) if not _barred(button)],
        "barred": [(each.label, roles_in_words(who_may(each.key))) for each in doing.never if _barred(each)],
    }
    return render(request, "parts/pieces/why.html", page)


def _steps(doing, case: ActionContext, reader: Person) -> list[tuple[str, str]]:
    """What comes next and after that, each with who may do it."""
    people, found = Person.objects.actors(writing.today()), []
    if doing.step.deed in {action.word for action in CATALOGUE}:
        look = look_of_step(doing.step, case)
        names = who_acts(doing.step.need or "", people, look=look) or may_do(doing.step.deed, people, look)
        found.append((label_of(doing.step), in_words(names, str(reader))))
    for deed in steps_to_go(case.this_piece.state):
        if deed != doing.step.deed and case.place is not None:
            look = look_of_step(NextStep(sentence="", deed=deed), case)
            found.append((CATALOGUE.action(deed).label, in_words(may_do(deed, people, look), str(reader))))
    return found[:STEPS]


def _barred(button) -> bool:
    return any(refusal.code == "role" for refusal in button.refusals)


def may_do(deed: str, people: list[Actor], look: str) -> list[str]:
    return who_may_do(who_may(deed), people, look=look)
