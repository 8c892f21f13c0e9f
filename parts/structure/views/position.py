"""One position: what it calls for, what is in it, and what stands against it."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refused
from parts.actions import writing
from parts.common.need_links import need_link
from parts.common.shortcuts import crumbs, position_or_404, refusals_on, status_in, status_of, subassembly_or_404
from parts.common.small_forms import with_seen
from parts.domain.cautions import before
from parts.queries.loading import bare_place

from .. import place_context
from ..forms import KnownEmptyForm, PositionForm
from ..writers import structure

FILL = ("seen", "part_of", "after")


@signed_in
@require_safe
def position(request, pk):
    place = position_or_404(pk)
    return render(request, "parts/structure/position.html", _page(request, place, KnownEmptyForm()))


def _page(request, place, form):
    roles = request.user.role_names
    found = place_context.place_context(place, writing.today())
    stands = found.standing
    return {
        "page": f"{place.words.capitalize()}, {place.subassembly.name}",
        "crumbs": crumbs(place.subassembly) + [{"href": "", "label": place.words}],
        "place": place,
        "sheet": found,
        "cautions": before("" if found.pieces or place.known_empty else "strip", bare_place(place), None),
        "link": need_link(stands.need, roles, place=place.pk, tag=stands.tag, target=stands.target) if stands else None,
        "may_propose": may(roles, "decide on"),
        "may_renew": may(roles, "renew"),
        "may_evidence": may(roles, "describe") or may(roles, "known empty"),
        "form": form,
        "may_strip": may(roles, "strip"),
        "may_start": may(roles, "start on"),
        "may_collect": may(roles, "collect kit"),
        "may_empty": may(roles, "known empty"),
        "may_edit": may(roles, "edit structure"),
        "may_hold": may(roles, "hold"),
        "may_stop": may(roles, "stop"),
        "may_lift": may(roles, "lift stop"),
        "may_photograph": may(roles, "photograph"),
        "may_draw": may(roles, "edit drawings"),
        "may_settle": may(roles, "decide"),
        "consumables": list(place.consumables.in_order()),
        "may_consume": may(roles, "edit consumables"),
    }


@who_may("known empty")
@require_POST
def known_empty(request, pk):
    place = position_or_404(pk)
    form = KnownEmptyForm(request.POST)
    if form.is_valid():
        with refusals_on(form):
            structure.set_known_empty(place, request.user, form.cleaned_data["evidence"])
            messages.success(request, f"{place.words} is known to be empty. Next: find a way to a piece for it.")
            return redirect(place)
    return render(request, "parts/structure/position.html", _page(request, position_or_404(pk), form), status=422)


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_position(request, pk):
    place = position_or_404(pk)
    edits = structure.edits_of(place)
    form = with_seen(PositionForm(request.POST or None, subassembly=place.subassembly, position=place), edits)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            entered = {name: value for name, value in form.cleaned_data.items() if name not in FILL}
            seen, outer = form.cleaned_data["seen"], form.cleaned_data["part_of"]
            structure.edit_position(place, request.user, seen=seen, part_of=outer, **entered)
            messages.success(request, f"{place.words} is changed.")
            return redirect(place)
    page = {"page": f"Edit {place.words}", "form": form, "back": place.get_absolute_url(), "place": place}
    page |= {"mistake": reverse("strike", args=["place", pk]), "merge": reverse("merge_place", args=[pk])}
    page["crumbs"] = crumbs(place.subassembly) + [{"href": page["back"], "label": place.words}]
    return render(request, "parts/common/position_form.html", page, status=status_in(form))


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def add_position(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    form = PositionForm(request.POST or None, subassembly=subassembly)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            entered = {name: value for name, value in form.cleaned_data.items() if name not in FILL}
            after, outer = form.cleaned_data["after"], form.cleaned_data["part_of"]
            place = structure.add_position(subassembly, request.user, part_of=outer, after=after, **entered)
            messages.success(request, f"{place.words} is added to {subassembly.name}.")
            return redirect("edit_subassembly", slug, code)
    back = reverse("edit_subassembly", args=[slug, code])
    page = {"page": f"A new place in {subassembly.name}", "form": form, "back": back}
    page["crumbs"] = crumbs(subassembly)
    return render(request, "parts/common/position_form.html", page, status=status_in(form))


@who_may("edit structure")
@require_POST
def remove_position(request, pk):
    place = position_or_404(pk)
    subassembly = place.subassembly
    try:
        became = structure.remove_position(place, request.user)
    except Refused as refused:
        page = _page(request, position_or_404(pk), KnownEmptyForm()) | {"refusals": refused.refusals}
        return render(request, "parts/structure/position.html", page, status=status_of(refused.refusals))
    how = "taken away" if became == "deleted" else "retired: its history stays readable"
    messages.success(request, f"{place.words} is {how}.")
    return redirect("edit_subassembly", subassembly.locomotive.slug, subassembly.code)
