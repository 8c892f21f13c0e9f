"""Deciding on a piece or on an empty place, with the ways weighed side by side."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from core.models import Event
from parts import facts
from parts.actions.forms import a_year_on
from parts.common.confirm_form import ask, of_piece, of_place, sent
from parts.common.shortcuts import component_or_404, crumbs, position_or_404, refusals_on, status_in, subassembly_or_404
from parts.domain.deciding import may_decide
from parts.domain.exams_due import unanswered
from parts.domain.job_words import Outcome
from parts.domain.plain import several
from parts.models import Decision, Firm

from ..decision_context import options_of, records_of
from ..forms.deciding import OPTIONS_OFFERED, DecideForm, OptionForm, WholeForm
from ..writers.decisions import decide
from ..writers.wholes import decide_on_whole as on_whole
from ..writers.wholes import missing_places


@sensitive_post_parameters("signature")
@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def decide_on_piece(request, code):
    piece = component_or_404(code)
    case = facts.context(piece, request.user, dependent=True)
    before = list(Decision.objects.about_piece(piece).for_page())
    pictures, records = list(piece.photos.all()[:12]), records_of(piece)
    address, crumbs = of_piece(piece)
    decided = decided_already(case)
    waits_for = ("", "renew") if decided else ("",)
    waiting = [exam.event for exam in unanswered(case.this_piece) if exam.decision in waits_for]
    start = {
        "seen": piece.last_event,
        "examined": waiting,
        "outcome": _asked(request) or (Outcome.RENEW if decided else ""),
        "reason": decided.remark if decided else "",
        "look_again": a_year_on(case.today),
    }
    return _decide(
        request, case, before, pictures, records, start, {"component": piece},
        title=piece.name, back=address, crumbs=crumbs, where=address, decided=decided,
    )  # fmt: skip


def decided_already(case) -> Event | None:
    """Of what was found, to renew it: here the renewal begins, for the same reason."""
    made = [exam.decided_event for exam in unanswered(case.this_piece) if exam.decision == "renew"]
    if not made or case.place is None or case.place.renewal:
        return None
    return Event.objects.select_related("actor").get(pk=max(made))


@sensitive_post_parameters("signature")
@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def decide_on_place(request, pk):
    place = position_or_404(pk)
    case = facts.load_place(place, request.user)
    before = list(Decision.objects.about_empty(place).for_page())
    pictures = list(place.photos.all()[:12])
    address, crumbs = of_place(place)
    return _decide(
        request, case, before, pictures, [], {"outcome": _asked(request)}, {"position": place},
        title=place.words, back=address, crumbs=crumbs, where=address,
    )  # fmt: skip


@sensitive_post_parameters("signature")
@who_may("decide on")
@require_http_methods(["GET", "HEAD", "POST"])
def decide_on_whole(request, slug, code):
    """All that is missing of a subassembly, by one decision."""
    whole = subassembly_or_404(slug, code)
    missing, roles = missing_places(whole), request.user.role_names
    dangerous = any(place.safety_critical or place.pressure_part for place in missing)
    for_good = may(roles, "decide") or may(roles, "renew") and not dangerous
    form = WholeForm(sent(request), missing=missing, initial={"provisional": not for_good})
    needs_signature(request, form)

    def do(entered):
        told = ("outcome", "route", "reason", "provisional", "places")
        found = on_whole(whole, request.user, **{name: entered[name] for name in told})
        return f"{_told(found[0])} {several(len(found), 'place')}.", whole

    return ask(
        request, form, do, heading=f"Decide on all of {whole.name}", button="Decide", back=whole.get_absolute_url(),
        crumbs=crumbs(whole),
        says=f"None of its pieces is here. {several(len(missing), 'place')} get the same decision.",
    )  # fmt: skip


def _decide(request, case, before, pictures, records, start, about, *, title, back, crumbs, where, decided=None):
    roles = request.user.role_names
    for_good = may_decide(roles, case.piece, case.place)
    sent = request.POST if request.method == "POST" else None
    form = DecideForm(
        sent, initial=start | {"provisional": not for_good}, case=case, pictures=pictures, records=records
    )
    needs_signature(request, form)
    options = _option_forms(sent, before)
    page = {
        "page": f"Decide: {title}", "title": title, "crumbs": [*crumbs, {"label": "Decide"}], "form": form,
        "options": options, "before": before, "back": back, "case": case, "pictures": pictures, "decided": decided,
        "weighed_open": sent is not None and any(option.errors or option.has_changed() for option in options),
        "weighed": sum(bool(option.initial.get("what")) for option in options),
        "may_decide": for_good, "may_propose": may(roles, "decide on"),
    }  # fmt: skip
    if sent is not None and _all_good(form, options):
        with refusals_on(form, thing=about.get("component")):
            decision = _made(request.user, form, options, about)
            messages.success(request, _told(decision))
            return redirect(_then(decision, where))
    status = status_in(form) if sent is not None or for_good or page["may_propose"] else 403
    return render(request, "parts/work/decide.html", page, status=status)


def _made(actor, form, options, about) -> Decision:
    entered = form.cleaned_data
    return decide(
        actor,
        outcome=entered["outcome"],
        reason=entered["reason"],
        provisional=entered["provisional"],
        options=[weighed for option in options if (weighed := option.weighed())],
        following=form.following(),
        seen=entered["seen"],
        **form.rests_on(),
        **about,
    )


def _all_good(form, options) -> bool:
    """Every form is looked at, so that all mistakes are shown at once."""
    good = form.is_valid()
    for option in options:
        if not option.is_valid():
            form.add_error(None, f"Way {option.number}: something in it cannot be so. It is marked there.")
            good = False
    return good


def _option_forms(sent, before) -> list[OptionForm]:
    """As many as were weighed the last time and one more, three at least."""
    start = options_of(before)
    shown = max(OPTIONS_OFFERED, len(start) + 1)
    firms = Firm.objects.in_use()
    start += [{"currency": "GBP", "unit": "weeks"}] * (shown - len(start))
    return [OptionForm(sent, number=n, firms=firms, initial=start[n - 1]) for n in range(1, shown + 1)]


def _asked(request) -> str:
    asked = request.GET.get("outcome", "")
    return asked if asked in list(Outcome) else ""


def _told(decision) -> str:
    if decision.provisional:
        return f"Noted as provisional: {decision.outcome}. It counts once it is decided for good."
    following = {
        Outcome.REPAIR: "The repair is begun.",
        Outcome.RENEW: "Next: say who does the first step, and by when.",
        Outcome.WITHDRAW: "Its place is known to be empty.",
    }
    return f"Decided: {decision.outcome}. {following.get(decision.outcome, '')}".strip()


def _then(decision, where):
    """To what the decision began, if it began something."""
    for begun in (decision.renewals.first(), decision.repairs.first()):
        if begun:
            return begun.get_absolute_url()
    if decision.component_id and decision.component.tags.current_code():
        return reverse("tag", args=[decision.component.tags.current_code()])
    return where
