"""The page of a small form: ask, do, and say what happened; a refusal shows the form again."""

from django.shortcuts import redirect, render
from django.urls import reverse

from core.log.writing import written

from ..models import Component, Position, Renewal
from .shortcuts import crumbs, refusals_on, say_done, status_in

TEMPLATE = "parts/common/confirm_form.html"


def ask(request, form, do, *, heading, button, back, thing=None, template=TEMPLATE, **page):
    """`do` takes what was entered, and answers with what to tell and where to go. `thing` bears the last event."""
    if request.method == "POST" and form.is_valid():
        with refusals_on(form, thing=thing):
            with written() as events:
                told, where = do(form.entered() if hasattr(form, "entered") else form.cleaned_data)
            say_done(request, told, events)
            return redirect(where)
    title = ", ".join([heading, *(crumb["label"] for crumb in page.get("crumbs", ())[-2:])])
    shown = {"page": title, "heading": heading, "form": form, "button": button, "back": back} | page
    return render(request, template, shown, status=status_in(form))


def sent(request):
    """What was sent, even if it was nothing; None while the form is only asked for."""
    return request.POST if request.method == "POST" else None


def seen(thing, **more) -> dict:
    """What a form starts with: the last event that the page knows of."""
    return {"seen": thing.last_event} | more


def of_piece(component: Component) -> tuple[str, list[dict]]:
    """The address of a piece's page, and the crumbs that lead back to it."""
    code = component.tags.current_code()
    of_place = component.place.get_absolute_url() if component.place else ""
    address = reverse("tag", args=[code]) if code else of_place
    above = crumbs(component.place.subassembly) if component.place else []
    return address, [*above, {"href": address, "label": f"{component.name} {code}".strip()}]


def of_place(place: Position) -> tuple[str, list[dict]]:
    """The address of a place's page, and the crumbs that lead back to it."""
    address = place.get_absolute_url()
    return address, [*crumbs(place.subassembly), {"href": address, "label": place.words}]


def of_renewal(renewal: Renewal) -> tuple[str, list[dict]]:
    """The address of a renewal's page, and the crumbs that lead back to it."""
    address = renewal.get_absolute_url()
    return address, [*of_place(renewal.position)[1], {"href": address, "label": "Renewal"}]
