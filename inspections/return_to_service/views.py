"""The list for the return to service: what was asked for, ticked, signed, printed. Cotter grants nothing."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from core.log.chain import sealed
from core.web.papers import pdf
from parts.actions import writing
from parts.common.confirm_form import ask, sent
from parts.common.shortcuts import locomotive_or_404, refusals_on, status_in
from parts.common.small_forms import Why, with_seen
from parts.models import Overhaul

from ..domain.return_list import GRANTS_NOTHING, against, read
from ..models import AskedItem, ReturnToService
from . import return_pdf, writers
from .forms import AskFor, SignList, TickForm
from .listing import allowed_on, edits_of, items_of, what_may_show
from .signed import RETURN_LIST


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def return_to_service(request, slug):
    locomotive = locomotive_or_404(slug)
    overhaul = overhaul_or_404(locomotive)
    form = AskFor(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            item = writers.ask_for(overhaul, request.user, **form.cleaned_data)
            messages.success(request, f"On the list: {item.words}.")
            return redirect("return_to_service", slug)
    items, allowed, roles = items_of(overhaul), allowed_on(overhaul), request.user.role_names
    page = {
        "page": f"Return to service, {locomotive.name}",
        "crumbs": way_to(locomotive)[:-1] + [{"href": "", "label": "Return to service"}],
        "locomotive": locomotive,
        "overhaul": overhaul,
        "items": items,
        "done": sum(bool(one.by) for one in items),
        "allowed": allowed,
        "against": against(items, allowed, writing.today()),
        "signed": list(ReturnToService.objects.for_page().filter(overhaul=overhaul)),
        "grants_nothing": GRANTS_NOTHING,
        "form": form,
        "may_ask": may(roles, "ask for return item") and not overhaul.closed,
        "may_tick": may(roles, "tick return item") and not overhaul.closed,
        "may_sign": may(roles, "sign return list") and not overhaul.closed,
    }
    return render(request, "inspections/return_to_service/return_to_service.html", page, status=status_in(form))


@sensitive_post_parameters("signature")
@who_may("tick return item")
@require_http_methods(["GET", "HEAD", "POST"])
def tick_item(request, pk):
    item = item_or_404(pk)

    def do(entered):
        writers.tick(item, request.user, **entered)
        return f"Ticked: {item.words}.", back_of(item)

    form = needs_signature(request, TickForm(sent(request), offered=what_may_show(item.overhaul)))
    return _ask(request, item, form, do, "By what is it shown?", "Tick item")


@sensitive_post_parameters("signature")
@who_may("tick return item")
@require_http_methods(["GET", "HEAD", "POST"])
def take_back_tick(request, pk):
    item = item_or_404(pk)

    def do(entered):
        writers.take_back(item, request.user, **entered)
        return f"No longer ticked: {item.words}.", back_of(item)

    return _ask(request, item, needs_signature(request, Why(sent(request))), do, "Why does it not count?", "Take back")


@who_may("ask for return item")
@require_http_methods(["GET", "HEAD", "POST"])
def drop_item(request, pk):
    item = item_or_404(pk)

    def do(entered):
        writers.drop(item, request.user, **entered)
        return f"No longer on the list: {item.words}.", back_of(item)

    return _ask(request, item, Why(sent(request)), do, "Why is it no longer asked for?", "Drop item")


@sensitive_post_parameters("signature")
@who_may("sign return list")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_return(request, slug):
    locomotive = locomotive_or_404(slug)
    overhaul = overhaul_or_404(locomotive)
    edits = edits_of(overhaul)
    form = needs_signature(request, with_seen(SignList(sent(request)), edits))

    def do(entered):
        made = writers.sign(overhaul, request.user, seen=entered["seen"])
        return "The list is signed. It grants nothing.", made.get_absolute_url()

    trouble = against(items_of(overhaul), allowed_on(overhaul), writing.today()) if request.method != "POST" else []
    back = reverse("return_to_service", args=[locomotive.slug])
    return ask(
        request, form, do, heading="Sign the list", button="Sign list", back=back, against=trouble,
        says=f"Sign that the list is as you know it. {GRANTS_NOTHING}", crumbs=way_to(locomotive),
    )  # fmt: skip


@signed_in
@require_safe
def signed_return(request, pk):
    record = signed_or_404(pk)
    items, allowed = read(record.content)
    now = (items_of(record.overhaul), allowed_on(record.overhaul)) if not record.overhaul.closed else (items, allowed)
    page = {
        "page": f"Signed list, {record.overhaul.locomotive.name}",
        "crumbs": way_to(record.overhaul.locomotive),
        "record": record,
        "items": items,
        "allowed": allowed,
        "changed": now != (items, allowed),
        "sealed": sealed(RETURN_LIST, record),
        "grants_nothing": GRANTS_NOTHING,
    }
    return render(request, "inspections/return_to_service/signed_return.html", page)


@signed_in
@require_safe
def signed_return_pdf(request, pk):
    return pdf(return_pdf.of_signed(signed_or_404(pk)), f"return-to-service-{pk}")


@signed_in
@require_safe
def return_list_pdf(request, slug):
    overhaul = overhaul_or_404(locomotive_or_404(slug))
    return pdf(return_pdf.of_list(overhaul, items_of(overhaul), allowed_on(overhaul)), f"return-to-service-{slug}")


def _ask(request, item, form, do, heading, button):
    return ask(
        request, form, do, heading=heading, button=button, back=back_of(item), says=item.words,
        crumbs=way_to(item.overhaul.locomotive), page=f"{heading} {item.words}",
    )  # fmt: skip


def back_of(item: AskedItem) -> str:
    return reverse("return_to_service", args=[item.overhaul.locomotive.slug])


def way_to(locomotive) -> list[dict]:
    return [
        {"href": locomotive.get_absolute_url(), "label": locomotive.name},
        {"href": reverse("return_to_service", args=[locomotive.slug]), "label": "Return to service"},
    ]


def overhaul_or_404(locomotive) -> Overhaul:
    """The open one, or else the last."""
    found = locomotive.overhauls.select_related("locomotive").order_by("-number").first()
    if found is None:
        raise Http404("It has no overhaul yet.")
    return found


def item_or_404(pk) -> AskedItem:
    try:
        return AskedItem.objects.select_related("overhaul__locomotive").get(pk=pk, dropped=False)
    except AskedItem.DoesNotExist:
        raise Http404("No such item is on a list.") from None


def signed_or_404(pk) -> ReturnToService:
    try:
        return ReturnToService.objects.for_page().get(pk=pk)
    except ReturnToService.DoesNotExist:
        raise Http404("No such signed list.") from None
