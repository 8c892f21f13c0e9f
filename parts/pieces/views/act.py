"""One form for each action on a piece. The refusals that grey the button are the ones that stop the form."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, signed_in
from core.domain.refusals import Refused
from core.roles import who_may
from parts.actions.cases import case_for
from parts.actions.life import perform
from parts.common import crates
from parts.common.acting import FORMS, override_field
from parts.common.doing import LABELS, ON_A_PIECE, in_words, standing_against, then
from parts.common.fields import refuse
from parts.common.piece_form import way_back
from parts.common.piece_sheet import inner_places, lies, welding
from parts.common.refusing import fresh
from parts.common.shortcuts import component_or_404, status_of
from parts.domain.cautions import caution_of
from parts.domain.states import TABLE
from parts.domain.words import Action
from parts.models import Component

from ..writers.stripping import strip_from_place

DONE = {
    Action.STRIP: "Stripped",
    Action.BREAK_DOWN: "Broken down; its pieces have their own tags now",
    Action.CLEAN: "Marked cleaned",
    Action.CRACK_CHECK: "Marked crack-checked",
    Action.ACCEPT: "Accepted",
    Action.PASS: "Passed",
    Action.FINISH_REPAIR: "Repair finished",
    Action.REFIT: "Refitted",
    Action.OFFER_UP: "Offered up, on trial",
    Action.TAKE_OFF: "Taken off",
    Action.LEAVE_ALONE: "Left alone this time",
    Action.SEND_BACK: "Sent back",
    Action.WITHDRAW: "Withdrawn",
    Action.BRING_BACK: "Brought back",
    Action.CHANGE_PLACES: "Changed places",
    Action.CONFIRM: "Confirmed with your name",
}
KEPT = (Action.STRIP, Action.CLEAN, Action.OFFER_UP, Action.TAKE_OFF)
"""What is done away from the desk, and may wait on a phone until the server answers."""


SIGNED = (Action.ACCEPT, Action.PASS, Action.CONFIRM, Action.LEAVE_ALONE, Action.WITHDRAW)
"""Somebody answers for these by name."""


@sensitive_post_parameters("checker_password", "signature")
@require_http_methods(["GET", "HEAD", "POST"])
@signed_in
def act(request, code, slug):
    component = component_or_404(code)
    action = action_or_404(slug)
    case = case_for(component, request.user, depended=action is Action.WITHDRAW)
    against = standing_against(action, case)
    if action is Action.FINISH_REPAIR and case.piece.repairs and request.method != "POST":
        return redirect("finish_repair", case.piece.repairs[0].id)
    form = form_for(request, action, case, component, against)
    if request.method == "POST":
        return send(request, code, action, case, component, form)
    if not all(refusal.passable for refusal in against) or (against and not case.engineer):
        return show(request, code, action, case, component, None, against, status_if_barred(against))
    return show(request, code, action, case, component, form, against, 200)


def send(request, code, action, case, component, form):
    """Check and do it; a refusal shows the same form again with what was typed."""
    if form.is_valid():
        try:
            carry_out(action, component, request.user, form)
        except Refused as refused:
            refuse(fresh(form, component), refused)
            return show(request, code, action, case, component, form, (), status_of(refused.refusals))
        crates.remember(request, form.cleaned_data.get("location"))
        messages.success(request, what_happened(action, component, request.user))
        return redirect("tag", code)
    return show(request, code, action, case, component, form, (), 422)


def carry_out(action, component, actor, form):
    said = form.cleaned_data
    if action is Action.STRIP:
        strip_from_place(
            component, actor, form.given(), seen=said["seen"], location=said["location"], **form.described()
        )
        return
    perform(action, component, actor, form.given(), seen=said["seen"], other=said.get("other"))


def what_happened(action: Action, component: Component, actor) -> str:
    """One sentence: what was done, and what the piece needs next."""
    component.refresh_from_db()
    return f"{DONE[action]}. {then(case_for(component, actor))}"


def form_for(request, action, case, component, against):
    form = FORMS[action](
        request.POST if request.method == "POST" else None,
        initial={"seen": component.last_event, "location": crates.remembered(request)},
        case=case,
        component=component,
        actor=request.user,
    )
    if case.engineer and any(refusal.passable for refusal in against):
        form.fields["override"] = override_field()
    return needs_signature(request, form) if is_signed(action, case) else form


def is_signed(action, case) -> bool:
    """Whether the name behind it is a signature: a fitted piece's only where a failure would hurt somebody."""
    return action in SIGNED or (action is Action.REFIT and case.place is not None and case.place.safety_critical)


def show(request, code, action, case, component, form, against, status):
    where, _ = lies(component)
    barred = any(refusal.code == "role" for refusal in against)
    return render(
        request,
        "parts/pieces/act.html",
        {
            "page": f"{LABELS[action]}: {component.name}, {code}",
            "crumbs": way_back(component, code, LABELS[action]),
            "heading": LABELS[action],
            "says": TABLE[action].says,
            "piece": component,
            "code": code,
            "where": where,
            "form": form,
            "against": against,
            "for_others": in_words(who_may(action.value)) if barred else "",
            "ways": getattr(form, "ways", ()),
            "inner": inner_places(component) if action is Action.BREAK_DOWN and form else (),
            "welding": welding(case, reverse("tag", args=[code]), expected=True)
            if action is Action.FINISH_REPAIR
            else None,
            "caution": caution_of(action, cracked=case.piece.cracked),
            "place_caution": component.place.caution if component.place else "",
            "danger": action is Action.WITHDRAW,
            "keep": action in KEPT,
        },
        status=status,
    )  # fmt: skip


def status_if_barred(against) -> int:
    return 403 if any(refusal.code == "role" for refusal in against) else 200


def action_or_404(slug: str) -> Action:
    found = next((action for action in ON_A_PIECE if action.value.replace(" ", "-") == slug), None)
    if found is None:
        raise Http404(f"Nothing that one does to a piece is called “{slug}”.")
    return found
