"""Evidence of what is no longer there, written down on its place."""

from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.confirm_form import ask, of_place, sent
from parts.common.shortcuts import position_or_404

from ..forms import EvidenceForm
from ..writers.evidence import add_evidence as write


@who_may("describe", "known empty")
@require_http_methods(["GET", "HEAD", "POST"])
def add_evidence(request, pk):
    place = position_or_404(pk)
    address, crumbs = of_place(place)
    form = EvidenceForm(sent(request), place=place)

    def do(entered):
        pictures = place.photos.in_bulk([int(number) for number in entered.get("photos", ())])
        write(
            place, request.user, kind=entered["kind"], words=entered["words"], source=entered["source"],
            photos=pictures.values()
        )  # fmt: skip
        return "The evidence is kept. Next: decide whether it is renewed or stays as it is.", address

    return ask(
        request, form, do, heading=f"Evidence: {place.words}", button="Save", back=address, crumbs=crumbs,
        says="How is it known what was here? Evidence is never edited: add more beside it.",
        aside_href=reverse("position_photos", args=[pk]), aside_label="Take a picture of it first",
    )  # fmt: skip
