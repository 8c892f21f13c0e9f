"""What goes on after what, changed on screen: the page first says what that makes clear or blocks."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.shortcuts import crumbs, position_or_404, refusals_on, status_in, subassembly_or_404
from parts.common.small_forms import with_seen

from ..forms import AssemblyOrderForm
from ..writers import order as writers


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_order(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    return _change(request, subassembly, subassembly.name, reverse("order", args=[slug]), crumbs(subassembly))


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_own_order(request, pk):
    """Of one place in its own right."""
    place = position_or_404(pk)
    back = place.get_absolute_url()
    return _change(
        request, place, place.words, back, [*crumbs(place.subassembly), {"href": back, "label": place.words}]
    )


def _change(request, thing, name, back, way):
    edits = writers.edits_of(thing)
    form = AssemblyOrderForm(request.POST or None, thing=thing)
    with_seen(form, edits)
    told = None
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form):
            if entered["read"] != form.named():
                told = writers.would_change(thing, entered["after"], request.user)
                form.now_read()
            else:
                writers.change_order(thing, entered["after"], request.user, seen=entered["seen"])
                messages.success(request, f"The order of {name} is changed.")
                return redirect(back)
    page = {
        "page": f"Order of assembly: {name}",
        "name": name,
        "form": form,
        "told": told,
        "back": back,
        "crumbs": [*way, {"href": "", "label": "What it goes on after"}],
    }
    return render(request, "parts/structure/edit_order.html", page, status=status_in(form))
