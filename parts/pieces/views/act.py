"""One form for each action on a piece. The refusals that grey the button are the ones that stop the form."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, signed_in
from core.domain.catalogue import who_may
from core.log.writing import written
from parts import facts
from parts.actions.forms import override_field
from parts.actions.perform import perform
from parts.common.piece_context import inner_places, lies, welding
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, refusals_on, remember_crate, remembered_crate, say_done, status_in
from parts.domain.cautions import caution_of_cleaning
from parts.domain.rows import ActionContext
from parts.domain.states import PieceAction, with_a_page
from parts.models import Component

from ..available_actions import in_words, problems_of
from ..writers.alike import do_alike
from ..writers.stripping import strip_from_place


@sensitive_post_parameters("checker_password", "signature")
@require_http_methods(["GET", "HEAD", "POST"])
@signed_in
def act(request, code, slug):
    component = component_or_404(code)
    action = action_or_404(slug)
    if request.method == "POST":
        return send(request, code, action, component)
    context = read(request, action, component)
    against = problems_of(action, context)
    if action.word == "finish repair" and context.this_piece.repairs:
        return redirect("finish_repair", context.this_piece.repairs[0].id)
    form = form_for(request, action, component, context, any(refusal.passable for refusal in against))
    if not all(refusal.passable for refusal in against) or (against and not context.engineer):
        return show(request, code, action, context, component, None, against, status_if_barred(against))
    return show(request, code, action, context, component, form, against, 200)


def read(request, action: PieceAction, component: Component) -> ActionContext:
    return facts.context(component, request.user, dependent=action.judges_dependents, order=action.judges_order)


def send(request, code, action, component):
    """Check and do it, reading what it rests on once, inside its transaction; a refusal shows the form again with what
    was typed."""
    context = read(request, action, component) if action.form.reads_facts else None
    form = form_for(request, action, component, context, "override" in request.POST)
    if form.is_valid():
        with refusals_on(form, thing=component):
            with written() as events:
                carry_out(action, component, request.user, form)
            remember_crate(request, form.cleaned_data.get("location"))
            back, place = going_back(request), component.place
            others = form.cleaned_data.get("alike")
            also = f", and {len(others)} more" if others else ""
            named = f": {place.words if place else component.name}" if back else ""
            say_done(request, f"{action.done}{named}{also}.", events)
            return redirect(back or reverse("tag", args=[code]))
    context = context or read(request, action, component)
    passable = getattr(form, "passable", False) or any(refusal.passable for refusal in problems_of(action, context))
    if context.engineer and passable:
        form.fields.setdefault("override", override_field())
    return show(request, code, action, context, component, form, (), status_in(form))


def going_back(request) -> str:
    """The page of somebody who works through a list, such as the steps of putting a subassembly together."""
    asked = request.GET.get("back", "")
    return asked if url_has_allowed_host_and_scheme(asked, allowed_hosts=None) else ""


def carry_out(action: PieceAction, component: Component, actor, form) -> None:
    entered = form.cleaned_data
    if action.word == "strip":
        strip_from_place(
            component, actor, form.given(), seen=entered["seen"], location=entered["location"], **form.described()
        )
    elif entered.get("alike"):
        do_alike(action.word, component, entered["alike"], actor, form.given(), seen=entered["seen"])
    else:
        perform(action.word, component, actor, form.given(), seen=entered["seen"], other=entered.get("other"))


def form_for(request, action, component, context: ActionContext | None, passable: bool):
    form = action.form(
        request.POST if request.method == "POST" else None,
        initial={"seen": component.last_event, "location": lambda: remembered_crate(request)},
        context=context,
        component=component,
        actor=request.user,
    )
    if passable and request.user.is_engineer:
        form.fields["override"] = override_field()
    return needs_signature(request, form) if is_signed(action, component) else form


def is_signed(action: PieceAction, component: Component) -> bool:
    return action.is_signed(component.place is not None and component.place.safety_critical)


def show(request, code, action: PieceAction, context, component, form, against, status):
    where, _ = lies(component)
    cautions, place = action.caution_for(context), context.place
    own = (place.caution, place.group_caution) if place else ()  # somebody wrote them of this place: never folded
    barred = any(refusal.code == "role" for refusal in against)
    address = reverse("tag", args=[code])
    return render(
        request,
        "parts/pieces/act.html",
        {
            "page": f"{action.label}: {component.name}, {code}",
            "crumbs": way_back(component, code, action.label),
            "heading": action.label,
            "says": action.says,
            "piece": component,
            "code": code,
            "where": where,
            "form": form,
            "against": against,
            "for_others": in_words(who_may(action.word)) if barred else "",
            "one_tap": [(method, caution_of_cleaning(method)) for method in getattr(form, "one_tap", ())],
            "of_another_way": caution_of_cleaning("blasted, caustic, needle gun") if action.word == "clean" else "",
            "inner": inner_places(component) if action.word == "break down" and form else (),
            "back": going_back(request) or address,
            "as_found": action.word in ("refit", "lock", "offer up"),
            "welding": welding(context, address, expected=True) if action.word == "finish repair" else None,
            "cautions": cautions,
            "own_cautions": [text for text in cautions if text in own],
            "usual_cautions": [text for text in cautions if text not in own],
            "danger": action.danger,
            "signed": is_signed(action, component),
        },
        status=status,
    )


def status_if_barred(against) -> int:
    return 403 if any(refusal.code == "role" for refusal in against) else 200


def action_or_404(slug: str) -> PieceAction:
    found = next((action for action in with_a_page() if action.slug == slug), None)
    if found is None:
        raise Http404(f"No action on a piece is called “{slug}”.")
    return found
