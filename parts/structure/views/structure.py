"""The structure of a locomotive: its subassemblies, what goes on after what, and their positions."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refused
from parts.common.list_table import Column, ListTable
from parts.common.shortcuts import locomotive_or_404, refusals_on, status_in, status_of, subassembly_or_404, tabs
from parts.common.small_forms import with_seen

from ..forms import EditSubassemblyForm, SubassemblyForm
from ..writers import rearranging
from ..writers import structure as writers


@signed_in
@require_safe
def structure(request, slug):
    locomotive = locomotive_or_404(slug)
    page = _page(request, locomotive)
    if page["table"].saves:
        return page["table"].file(page["rows"])
    return render(request, "parts/structure/structure.html", page)


COLUMNS = (
    Column("name", "Subassembly", lambda sub: sub.name),
    Column("after", "Goes on after", lambda sub: ", ".join(other.name for other in sub.orders)),
    Column("places", "Places", lambda sub: sub.places, num=True),
)


def _page(request, locomotive, **more):
    table = ListTable(request, COLUMNS, f"structure-{locomotive.slug}")
    return {
        "page": f"Structure of {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": "", "label": "Structure"},
        ],
        "locomotive": locomotive,
        "tabs": tabs(locomotive, "structure"),
        "rows": table.in_order(locomotive.subassemblies.as_tree()),
        "table": table,
        "may_edit": may(request.user.role_names, "edit structure"),
    } | more


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def add_subassembly(request, slug):
    locomotive = locomotive_or_404(slug)
    form = SubassemblyForm(request.POST or None, locomotive=locomotive)
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form):
            made = writers.add_subassembly(
                locomotive, entered["name"], request.user, parent=entered["parent"], after=entered["after"]
            )
            messages.success(request, f"{made.name} is added. Next: its places.")
            return redirect("edit_subassembly", slug, made.code)
    back = reverse("structure", args=[slug])
    page = {"page": "A new subassembly", "form": form, "back": back}
    page["crumbs"] = [
        {"href": locomotive.get_absolute_url(), "label": locomotive.name},
        {"href": back, "label": "Structure"},
    ]
    return render(request, "parts/common/position_form.html", page, status=status_in(form))


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def edit_subassembly(request, slug, code):
    """Everybody reads the places of a subassembly; the works manager names it here, and puts it where it belongs."""
    subassembly = subassembly_or_404(slug, code)
    edits = rearranging.edits_of(subassembly)
    follows = None if subassembly.retired else rearranging.before_it(subassembly)
    form = with_seen(EditSubassemblyForm(request.POST or None, subassembly=subassembly, follows=follows), edits)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            rearranging.edit_subassembly(subassembly, request.user, **form.cleaned_data)
            messages.success(request, f"{form.cleaned_data['name']} is changed.")
            return redirect("edit_subassembly", slug, code)
    page = {
        "page": f"Places of {subassembly.name}",
        "crumbs": [
            {"href": subassembly.locomotive.get_absolute_url(), "label": subassembly.locomotive.name},
            {"href": reverse("structure", args=[slug]), "label": "Structure"},
            {"href": "", "label": subassembly.name},
        ],
        "subassembly": subassembly,
        "locomotive": subassembly.locomotive,
        "form": form,
        "places": subassembly.positions.in_use().with_outer().in_words_order(),
        "may_edit": may(request.user.role_names, "edit structure"),
    }
    return render(request, "parts/structure/structure_part.html", page, status=status_in(form))


@who_may("edit structure")
@require_POST
def remove_subassembly(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    try:
        writers.remove_subassembly(subassembly, request.user)
    except Refused as refused:
        page = _page(request, subassembly.locomotive, refusals=refused.refusals)
        return render(request, "parts/structure/structure.html", page, status=status_of(refused.refusals))
    messages.success(request, f"{subassembly.name} is taken away.")
    return redirect("structure", slug)
