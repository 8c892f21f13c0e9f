"""One box to find anything: a tag, a name, a place, marks, the works' own number, a drawing, a crate."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from workshop.access import signed_in

from .. import finding
from ..domain.tagcodes import is_code, normalise
from ..domain.words import State
from ..models import Tag
from .answers import words_in


@require_safe
@signed_in
def find(request):
    asked = request.GET
    text = words_in(request, "q")
    state = asked.get("state", "") if asked.get("state", "") in list(State) else ""
    number = int(asked["page"]) if asked.get("page", "").isdecimal() and len(asked["page"]) < 6 else 1
    if is_code(text) and Tag.objects.of_code(normalise(text)):
        return redirect("tag", normalise(text))
    page = {
        "page": f"Find “{text}”" if text else "Find",
        "q": text,
        "state": state,
        "states": [word.value for word in State],
        "number": number,
        "found": finding.find(text, state, max(number, 1)) if text or state else None,
    }
    return render(request, "parts/find.html", page)
