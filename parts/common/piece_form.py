"""The page of a small form about one piece: which piece it is, the form, and the way back."""

from django.shortcuts import render
from django.urls import reverse

from .shortcuts import status_in


def piece_form(request, piece, code, form, heading, button, *, says=""):
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
    return render(request, "parts/common/piece_form.html", page, status=status_in(form))


def way_back(piece, code: str, heading: str) -> list[dict]:
    """The crumbs of a page about one piece: back to it, and what this page is."""
    return [{"href": reverse("tag", args=[code]), "label": f"{piece.name} {code}"}, {"label": heading}]
