"""The register of firms: what each does, what lies there, what it has promised."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refused
from parts.actions import writing
from parts.common.confirm_form import ask, sent
from parts.common.list_table import ListTable
from parts.common.shortcuts import status_of
from parts.common.small_forms import with_seen
from parts.models import Firm

from ..columns import FIRM_COLUMNS, REACH
from ..forms.jobs import CallForm, FirmForm
from ..job_context import firm_context
from ..promises import anew_in_words, calls_to, may_reach, of_firm
from ..writers import firms as writers
from ..writers.calls import note_call


@signed_in
@require_safe
def firms(request):
    reach = may_reach(request.user.role_names)
    table = ListTable(request, [one for one in FIRM_COLUMNS if reach or one is not REACH], "firms")
    found = table.in_order(Firm.objects.as_list(writing.today()))
    if table.saves:
        return table.file(found)
    page = {
        "page": "Firms",
        "firms": found,
        "table": table,
        "may_reach": reach,
        "may_edit": may(request.user.role_names, "edit firms"),
    }
    return render(request, "parts/work/firms.html", page)


@signed_in
@require_safe
def firm(request, pk):
    return _show(request, firm_or_404(pk))


def _show(request, found, refusals=()):
    page = {
        "page": f"{found.name}, firm",
        "crumbs": [{"href": reverse("firms"), "label": "Firms"}, {"label": found.name}],
        "firm": found,
        "sheet": firm_context(found),
        "refusals": refusals,
        "may_edit": may(request.user.role_names, "edit firms"),
        "may_reach": may_reach(request.user.role_names),
        "may_call": may(request.user.role_names, "call firm"),
        "calls": calls_to(found),
    }
    return render(request, "parts/work/firm.html", page, status=status_of(refusals))


@who_may("edit firms")
@require_http_methods(["GET", "HEAD", "POST"])
def add_firm(request):
    form = FirmForm(sent(request))
    form.fields["location"].offer()

    def do(entered):
        return "The firm is in the register.", writers.add_firm(request.user, **entered)

    return ask(request, form, do, heading="A firm", button="Save firm", back=reverse("firms"), crumbs=_crumbs())


@who_may("edit firms")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_firm(request, pk):
    found = firm_or_404(pk)
    edits = writers.edits_of(found)
    start = {name: getattr(found, name) for name in writers.FIELDS} | {"location": found.location.path}
    form = with_seen(FirmForm(sent(request), initial=start), edits)
    form.fields["location"].offer()

    def do(entered):
        writers.edit_firm(found, request.user, **entered)
        return "Kept.", found

    back, heading = found.get_absolute_url(), f"Edit {found.name}"
    return ask(request, form, do, heading=heading, button="Save", back=back, crumbs=_crumbs(),
               mistake=reverse("strike", args=["firm", pk]))  # fmt: skip


@who_may("call firm")
@require_http_methods(["GET", "HEAD", "POST"])
def call_firm(request, pk):
    """A call or a letter: who said what, and the day that they promise now."""
    found, today = firm_or_404(pk), writing.today()
    form = CallForm(sent(request), initial={"on": today, "about": request.GET.get("about", "")})
    form.offer(of_firm(found, today))

    def do(entered):
        moved = note_call(found, request.user, **entered)
        told = anew_in_words(moved, entered["promised"]) if moved else ""
        return f"Noted under {found.name}. {told}".strip(), "home" if request.POST.get("from") == "home" else found

    back = found.get_absolute_url()
    page = {"back": back, "crumbs": [*_crumbs(), {"href": back, "label": found.name}]}
    return ask(request, form, do, heading=f"A call or letter to {found.name}", button="Save call", **page)


@who_may("edit firms")
@require_POST
def retire_firm(request, pk):
    found = firm_or_404(pk)
    try:
        writers.retire_firm(found, request.user, retired=not found.retired)
    except Refused as refused:
        return _show(request, found, refused.refusals)
    return redirect("firm", pk)


def _crumbs():
    return [{"href": reverse("firms"), "label": "Firms"}]


def firm_or_404(pk) -> Firm:
    try:
        return Firm.objects.select_related("location").get(pk=pk)
    except Firm.DoesNotExist:
        raise Http404("No such firm.") from None
