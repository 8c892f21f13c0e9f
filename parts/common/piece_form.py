"""The page of a small form about one piece: which piece it is, the form, and the way back."""

from django.shortcuts import render
from django.urls import reverse


def piece_form(request, piece, code, form, heading, button, *, says="", status=200):
    page = {
        "page": f"{heading}: {piece.name}, {code}",
        "crumbs": way_back(piece, code, heading),
        "heading": heading,
        "button": button,
        "says": says,
        "piece": piece,
        "code": code,
        "form": form,
    }
    return render(
        request, "parts/common/piece_form.html", page, status=422 if form.errors and status == 200 else status
    )


def way_back(piece, code: str, heading: str) -> list[dict]:
    """The crumbs of a page about one piece: back to it, and what this page is."""
    return [{"href": reverse("tag", args=[code]), "label": f"{piece.name} {code}"}, {"label": heading}]


def fresh(form, piece):
    """Whoever was told that somebody was quicker may look at the piece and send the form again."""
    piece.refresh_from_db(fields=["last_event"])
    form.data = form.data.copy()
    form.data["seen"] = str(piece.last_event)
    return form
