"""How a view carries a form out and is refused: every refusal beside its field, and the page shown again.

form = RackForm(request.POST or None)
if request.method == "POST" and form.is_valid():
    with refusals_on(form):
        add_rack(request.user, **form.cleaned_data)
        return redirect("racks")
return render(request, "rack.html", {"form": form}, status=status_in(form))
"""

from collections.abc import Iterator
from contextlib import contextmanager

from django.contrib import messages

from core.domain.refusals import Refused
from core.web.two_at_once import side_by_side

from ..actions.fields import refuse
from .shortcuts import status_of


@contextmanager
def refusals_on(*forms, thing=None) -> Iterator[None]:
    """A refusal inside goes to the form that has its field, or else to the first, and what follows shows them again.
    `thing` bears the last event. Whoever was told that somebody was quicker sees both values, field by field, and may
    send the form again."""
    try:
        yield
    except Refused as refused:
        say(refused, *forms)
        fresh(forms[0], thing)
        if any(refusal.code == "stale" for refusal in refused.refusals):
            side_by_side(forms[0])


@contextmanager
def refusals_told(request) -> Iterator[None]:
    """For a button that has no form of its own: each refusal is told on the page that follows."""
    try:
        yield
    except Refused as refused:
        for refusal in refused.refusals:
            messages.error(request, str(refusal))


def say(refused: Refused, *forms) -> int:
    """Put each refusal on its form; the status that they deserve, which `status_in` then answers too."""
    for refusal in refused.refusals:
        refuse(next((form for form in forms if refusal.code in form.fields), forms[0]), Refused(refusal))
    forms[0].refused_with = status_of(refused.refusals)
    return forms[0].refused_with


def status_in(*forms) -> int:
    """200 while nothing is wrong with any of them; what one was refused with; or 422."""
    refused = (form.refused_with for form in forms if hasattr(form, "refused_with"))
    return next(refused, 422 if any(form.errors for form in forms) else 200)


def fresh(form, thing):
    """The form with the number of the last event of the thing, as it is now."""
    if thing is not None and "seen" in form.fields:
        thing.refresh_from_db(fields=["last_event"])
        _now_seen(form, thing.last_event)
    return form


def _now_seen(form, number: int) -> None:
    form.data = form.data.copy()
    form.data[form.add_prefix("seen")] = str(number)
