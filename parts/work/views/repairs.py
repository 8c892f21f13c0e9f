"""Repairs: begun from a piece's page, followed on a page of their own, finished there."""

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from parts import facts
from parts.actions import writing
from parts.actions.finish_repair import FINISH_REPAIR
from parts.actions.forms import override_field
from parts.common.confirm_form import ask, of_piece, seen, sent
from parts.common.shortcuts import component_or_404
from parts.common.small_forms import PromiseForm, Why
from parts.domain.cautions import before
from parts.domain.jobs import days_late
from parts.domain.repair_methods import look_at_after, notes_on, table
from parts.domain.states import refusals
from parts.models import Repair
from parts.models.promises import that_stand
from parts.queries.loading import bare_place

from ..forms.jobs import RepairBegin, RepairEdit, RepairFinish
from ..writers import repairs as writers


@who_may("repair")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_repair(request, code):
    piece = component_or_404(code)
    address, crumbs = of_piece(piece)
    form = RepairBegin(sent(request), initial=seen(piece, currency="GBP"))

    def do(entered):
        repair = writers.open_repair(piece, request.user, seen=form.cleaned_data["seen"], **entered)
        return "The repair is begun. Next: the work, and then say that it is finished.", repair

    return ask(
        request, form, do, heading=f"Begin a repair: {piece.name}", button="Begin the repair", back=address,
        crumbs=crumbs, thing=piece,
        cautions=before("finish repair", bare_place(piece.place) if piece.place else None, None),
        says="Until it is finished, the piece needs its repair.",
        methods=table().items(), template="parts/work/begin_repair.html",
    )  # fmt: skip


@signed_in
@require_safe
def repair(request, pk):
    found = repair_or_404(pk)
    address, crumbs = of_piece(found.component)
    page = {
        "page": f"Repair: {found.what}",
        "crumbs": crumbs,
        "repair": found,
        "piece_href": address,
        "late": 0 if found.ended else days_late(found.promised, writing.today()),
        "promises": that_stand(found.promises.select_related("by", "event")),
        "may_repair": may(request.user.role_names, "repair"),
        "may_promise": _may_chase(request.user),
        "cautions": () if found.ended else _cautions(found),
        "look_at": look_at_after(found.method),
    }
    return render(request, "parts/work/repair.html", page)


@who_may("repair", "renew")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_repair(request, pk):
    found = repair_or_404(pk)
    names = ("method", "what", "firm", "who", "ordered", "estimate", "committed", "actual", "currency", "hours")
    form = RepairEdit(sent(request), initial=seen(found, **{name: getattr(found, name) for name in names}))

    def do(entered):
        writers.edit_repair(found, request.user, seen=form.cleaned_data["seen"], **entered)
        return "Kept.", found

    return _ask(request, form, do, found, heading=f"Put right: {found.what}", button="Save")


@who_may("repair", "renew")
@require_http_methods(["GET", "HEAD", "POST"])
def promise_repair(request, pk):
    found = repair_or_404(pk)
    form = PromiseForm(sent(request), initial=seen(found, promised=found.promised))

    def do(entered):
        kept = entered["promised"], entered["why"]
        writers.promise_repair(found, request.user, new=kept[0], why=kept[1], seen=form.cleaned_data["seen"])
        return "The promised day is kept, and the one before it stays on record.", found

    return _ask(request, form, do, found, heading=f"Promised day: {found.what}", button="Save day")


@who_may("repair")
@require_http_methods(["GET", "HEAD", "POST"])
def finish_repair(request, pk):
    found = repair_or_404(pk)
    piece = found.component
    start = {name: getattr(found, name) for name in ("hours", "actual", "currency", "let_in", "procedure", "welder")}
    start |= {"who": found.by_words, "work": found.what, "done": writing.today()}
    case = facts.context(piece, request.user)
    form = RepairFinish(
        sent(request),
        initial=seen(piece, **start),
        component=piece,
        actor=request.user,
        context=case,
        method=found.method,
    )
    if request.user.is_engineer:
        form.fields["override"] = override_field()
        form.fields["override"].required = False

    def do(entered):
        writers.finish_repair(found, request.user, **entered)
        return "The repair is finished. Next: mark the piece cleaned, then have it examined again.", of_piece(piece)[0]

    return _ask(
        request, form, do, found, heading=f"Finish the repair: {found.what}", button="Finish repair", thing=piece,
        cautions=(notes_on(found.method).caution, *FINISH_REPAIR.caution_for(case)),
        against=refusals(FINISH_REPAIR, case) if request.method == "GET" else (),
        says="The piece goes back to stripped: what was signed before no longer counts, and it is examined again. "
        + look_at_after(found.method),
    )  # fmt: skip


@who_may("repair")
@require_http_methods(["GET", "HEAD", "POST"])
def give_up_repair(request, pk):
    found = repair_or_404(pk)
    form = Why(sent(request), initial=seen(found))

    def do(entered):
        writers.give_up_repair(found, request.user, reason=entered["reason"], seen=form.cleaned_data["seen"])
        return "The repair is given up. Next: decide on the piece.", of_piece(found.component)[0]

    return _ask(request, form, do, found, heading=f"Give the repair up: {found.what}", button="Give it up", danger=True)


def _ask(request, form, do, found, *, thing=None, **page):
    crumbs = [*of_piece(found.component)[1], {"href": found.get_absolute_url(), "label": "Repair"}]
    return ask(request, form, do, back=found.get_absolute_url(), crumbs=crumbs, thing=thing or found, **page)


def _cautions(found: Repair) -> tuple[str, ...]:
    """What the method itself asks stands first."""
    piece = found.component
    return notes_on(found.method).caution, *before(
        "finish repair", bare_place(piece.place) if piece.place else None, None
    )


def _may_chase(person) -> bool:
    return may(person.role_names, "repair") or may(person.role_names, "renew")


def repair_or_404(pk) -> Repair:
    try:
        return Repair.objects.for_page().get(pk=pk)
    except Repair.DoesNotExist:
        raise Http404("No such repair.") from None
