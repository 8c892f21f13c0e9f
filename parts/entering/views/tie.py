"""Tying tags: another one to a piece whose tag is lost, or an unused one to a thing that is here already."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refused
from parts.common.fields import refuse
from parts.common.piece_form import piece_form
from parts.common.shortcuts import component_or_404, status_of, tag_or_404
from parts.domain.tagcodes import grouped
from parts.models import Component
from parts.tags.writers import tie

from ..forms import TieAnother, TieTo

SAYS = "The old tag still leads to this piece, wherever it turns up."


@who_may("tie tag")
@require_http_methods(["GET", "HEAD", "POST"])
def tie_tag(request, code):
    """Of a piece's tag: tie another one. Of an unused tag: tie it to something."""
    tag = tag_or_404(code)
    if tag.thing is None:
        return tie_to(request, tag)
    if tag.pattern_id:
        return redirect("tie_pattern", tag.pattern_id)
    piece, status = component_or_404(code), 200
    form = TieAnother(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            new = tie(form.cleaned_data["code"], piece, request.user)
            messages.success(request, f"Tag {grouped(new.code)} hangs on it now. Take the old one off.")
            return redirect("tag", new.code)
        except Refused as refused:
            refuse(form, refused)
            status = status_of(refused.refusals)
    return piece_form(request, piece, code, form, "Tie another tag", "Tie it", says=SAYS, status=status)


def tie_to(request, tag):
    form, status = TieTo(request.POST or None), 200
    if request.method == "POST" and form.is_valid():
        thing = form.cleaned_data["thing"]
        try:
            tie(tag.code, thing, request.user)
            messages.success(request, f"Tag {grouped(tag.code)} hangs on {thing} now. Take the old one off.")
            return redirect("tag", tag.code) if isinstance(thing, Component) else redirect(thing)
        except Refused as refused:
            refuse(form, refused)
            status = status_of(refused.refusals)
    if form.errors and status == 200:
        status = 422
    page = {"page": f"Tie tag {grouped(tag.code)}", "tag": tag, "form": form}
    return render(request, "parts/entering/tie.html", page, status=status)
