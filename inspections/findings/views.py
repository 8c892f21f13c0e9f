"""What becomes of something that was found: the responsible engineer decides, and never whoever did the work."""

from typing import Any

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, who_may
from parts import facts
from parts.common.piece_form import way_back
from parts.common.shortcuts import refusals_on, status_in
from parts.domain.exams_due import GRAVITY
from parts.domain.plain import several

from ..cracks import crack_context
from ..cracks.crack_record import decided_of
from ..records.shortcuts import examination_or_404
from .forms import ALL, Decide
from .writers import acceptance_troubles, decide_each, decision_troubles

THEN = {
    "accept as it is": "It stays as it is.",
    "re-examine": "Next: dress it out, and examine it again.",
    "repair": "Next: have it repaired, and record the work.",
    "renew": "Next: say by which route.",
}


@sensitive_post_parameters("signature")
@who_may("decide")
@require_http_methods(["GET", "HEAD", "POST"])
def decide(request, pk):
    record = examination_or_404(pk)
    piece, shown = record.component, crack_context.shown_by(record)
    case = facts.context(piece, request.user, order=False)
    asks: dict[str, Any] = {"shown": shown, "made": decided_of(record, shown)}
    outside = record.measurements.filter(outside=True, concessions__isnull=True).exists()
    asks["barred"] = barred(record, case, shown, outside)
    if request.method != "POST":
        against = list(decision_troubles(record, piece, request.user, "repair", "asked beforehand"))
        form = Decide(initial={"seen": piece.last_event}, **asks)
        return show(request, record, shown, needs_signature(request, form), against)
    form = Decide(request.POST, **asks)
    needs_signature(request, form)
    if form.is_valid():
        with refusals_on(form, thing=piece):
            made = decide_each(record, request.user, form.decisions(), seen=form.cleaned_data["seen"])
            goes_on = next_is_renewal(made, case)
            messages.success(request, what_was_decided(record, shown, made, goes_on))
            return redirect("decide_on_piece" if goes_on else "tag", piece.tags.current_code())
    return show(request, record, shown, form, status=status_in(form))


def barred(record, case, shown, outside: bool) -> dict:
    """By number, why it may not stand as it is: the same that refuses it."""
    found = {one.number: list(acceptance_troubles(record, case, [one], outside=outside)) for one in shown}
    return found | {ALL: list(acceptance_troubles(record, case, shown, outside=outside))}


def next_is_renewal(made, case) -> bool:
    """The decision goes on at once where its renewal is begun, unless one is under way."""
    return any(one.decision == "renew" for one in made) and case.place is not None and case.place.renewal is None


def what_was_decided(record, shown, made, goes_on: bool) -> str:
    """What, of which, and what follows from the gravest of it."""
    gravest = max((one.decision for one in made), key=GRAVITY.index)
    then = "Next: withdraw it." if gravest == "renew" and not goes_on else THEN[gravest]
    if made[0].indication is None:
        return f"Decided: {gravest}. {then}"
    decided = "; ".join(f"indication {one.indication.number} {one.decision}" for one in made)
    left = sum(1 for decision in decided_of(record, shown).values() if decision is None)
    if left:
        return f"Decided: {decided}. {several(left, 'indication')} still to be decided."
    return f"Decided: {decided}. {then}"


def show(request, record, shown, form, against=(), status=200):
    piece = record.component
    code = piece.tags.current_code()
    page = {
        "page": f"Decide what was found: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Decide what was found"),
        "record": record,
        "piece": piece,
        "code": code,
        "form": form,
        "against": against,
        "marked": crack_context.marked_photos(shown),
        "outside": list(record.measurements.to_decide()),
    }
    return render(request, "inspections/findings/decide.html", page, status=status)
