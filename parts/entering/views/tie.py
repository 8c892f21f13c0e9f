"""Tying tags: another one to a piece whose tag is lost, or an unused one to a thing that is here already."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.log.writing import written
from parts.common.piece_form import piece_form
from parts.common.shortcuts import component_or_404, refusals_on, say_done, status_in, tag_or_404
from parts.domain.tagcodes import grouped
from parts.models import Component
from parts.tags.writers import tie

from ..forms import TieAnother, TieTo

SAYS = "The old tag still opens this piece if somebody finds it."


@who_may("tie tag")
@require_http_methods(["GET", "HEAD", "POST"])
def tie_tag(request, code):
    """Of a piece's tag: tie another one. Of an unused tag: tie it to something."""
    tag = tag_or_404(code)
    if tag.thing is None:
        return tie_to(request, tag)
    if tag.pattern_id:
        return redirect("tie_pattern", tag.pattern_id)
    piece = component_or_404(code)
    form = TieAnother(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            with written() as events:
                new = tie(form.cleaned_data["code"], piece, request.user)
            say_done(request, f"Tag {grouped(new.code)} hangs on it now. Take the old one off.", events)
            return redirect("tag", new.code)
    return piece_form(request, piece, code, form, "Tie another tag", "Tie it", says=SAYS)


def tie_to(request, tag):
    form = TieTo(request.POST or None)
    if request.method == "POST" and form.is_valid():
        thing = form.cleaned_data["thing"]
        with refusals_on(form):
            with written() as events:
                tie(tag.code, thing, request.user)
            say_done(request, f"Tag {grouped(tag.code)} hangs on {thing} now. Take the old one off.", events)
            return redirect("tag", tag.code) if isinstance(thing, Component) else redirect(thing)
    page = {"page": f"Tie tag {grouped(tag.code)}", "tag": tag, "form": form}
    return render(request, "parts/entering/tie.html", page, status=status_in(form))
