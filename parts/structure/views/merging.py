"""Two places, or two subassemblies, that are one: merged, so that the old leads to the new."""

from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.confirm_form import ask, sent
from parts.common.shortcuts import crumbs, position_or_404, subassembly_or_404
from parts.models import Position, Subassembly

from ..forms import MergeForm
from ..writers import merging

SAYS = "The pieces of this one go to the other, which stays. Signed records still name this one, and open the other."


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def merge_place(request, pk):
    place = position_or_404(pk)
    others = Position.objects.filter(locomotive=place.locomotive, retired=False).exclude(pk=pk).in_words_order()

    def do(entered):
        merging.merge_places(place, entered["into"], request.user)
        return f"{place.words} is merged.", entered["into"]

    way = [*crumbs(place.subassembly), {"href": place.get_absolute_url(), "label": place.words}]
    return _ask(request, do, others, place.words, place.get_absolute_url(), way)


@who_may("edit structure")
@require_http_methods(["GET", "HEAD", "POST"])
def merge_subassembly(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    others = Subassembly.objects.filter(locomotive=subassembly.locomotive).in_use().exclude(pk=subassembly.pk)

    def do(entered):
        merging.merge_subassemblies(subassembly, entered["into"], request.user)
        return f"{subassembly.name} is merged.", reverse("edit_subassembly", args=[slug, entered["into"].code])

    back = reverse("edit_subassembly", args=[slug, code])
    return _ask(request, do, others, subassembly.name, back, crumbs(subassembly))


def _ask(request, do, others, name: str, back: str, way):
    form = MergeForm(sent(request), others=others)
    return ask(request, form, do, heading=f"Merge {name}", button="Merge", back=back, says=SAYS, crumbs=way)
