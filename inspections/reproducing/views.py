"""The sizes of a condemned piece that its successor must match: taken one by one, or why none can be."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from core.access import signed_in, who_may
from core.domain.catalogue import may
from parts.common.confirm_form import ask, sent
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, refusals_on, refusals_told, status_in

from ..models import TakenSize
from .forms import NoneToTake, TakeSize
from .taken_size_context import taken_from, why_none
from .writers import none_to_take, set_in_force, take_size


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def reproduce(request, code):
    piece = component_or_404(code)
    form = TakeSize(sent(request), pictures=piece.photos.all(), initial={"unit": request.GET.get("unit", "")})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            taken = take_size(piece, request.user, form.taken())
            messages.success(request, f"{taken}: kept. Its successor is measured for it before it is passed.")
            return redirect(f"{reverse('reproduce', args=[code])}?unit={taken.unit}")
    roles = request.user.role_names
    page = {
        "page": f"Sizes to reproduce: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Sizes to reproduce"),
        "piece": piece,
        "code": code,
        "lines": taken_from(piece),
        "none": why_none(piece),
        "form": form,
        "place": piece.place or piece.came_off,
        "may_take": may(roles, "examine") and piece.state != "in the making",
        "may_set": may(roles, "edit limits"),
    }
    return render(request, "inspections/reproducing/reproduce.html", page, status=status_in(form))


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def nothing_to_reproduce(request, code):
    piece = component_or_404(code)
    back = reverse("reproduce", args=[code])

    def do(entered):
        none_to_take(piece, request.user, entered["reason"])
        return "Saved: no size is taken from it.", back

    return ask(
        request, NoneToTake(sent(request)), do, heading=f"No size is taken: {piece.name}", button="Save",
        back=back, crumbs=way_back(piece, code, "No size is taken"),
        says="A size not taken now is lost when the piece goes.",
    )  # fmt: skip


@who_may("edit limits")
@require_POST
def set_taken_size(request, pk):
    taken = TakenSize.objects.by_number(pk)
    code = taken.component.tags.current_code() if taken else ""
    if not code:
        raise Http404("No such size.")
    with refusals_told(request):
        set_in_force(taken, request.user)
        messages.success(request, f"{taken}: its limits are set. The new piece is judged by them.")
    return redirect("reproduce", code)
