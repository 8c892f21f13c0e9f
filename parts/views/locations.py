"""Where things lie: the tree, one place with what is in it, and moving a crate with all it holds."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from workshop.access import signed_in, who_may
from workshop.roles import may

from ..actions import moving
from ..actions.tagging import issue_for_location
from ..domain.refusals import Refused
from ..forms.fields import refuse
from ..forms.stores import EditLocationForm, LocationForm, MoveCrateForm, PutHereForm
from ..models import Component, Event, Location
from ..piece_sheet import told
from .answers import location_or_404, status_of

A_PAGE = 100


@signed_in
@require_safe
def locations(request):
    text = " ".join(request.GET.get("q", "").split())
    page = {
        "page": "Where things lie",
        "q": text,
        "rows": Location.objects.called(text).as_tree(),
        "may_edit": may(request.user.role_names, "edit locations"),
    }
    return render(request, "parts/locations.html", page)


@who_may("edit locations")
@require_http_methods(["GET", "HEAD", "POST"])
def add_location(request):
    form = LocationForm(request.POST or None, initial={"parent": request.GET.get("in", "")})
    if request.method == "POST" and form.is_valid():
        try:
            made = moving.add_location(request.user, **form.cleaned_data)
            messages.success(request, f"{made} is added. Next: print its label.")
            return redirect(made)
        except Refused as refused:
            refuse(form, refused)
    form.fields["parent"].offer()
    page = {"page": "A new place where things lie", "form": form, "back": reverse("locations")}
    page["crumbs"] = [{"href": page["back"], "label": "Where things lie"}, {"href": "", "label": "New"}]
    return render(request, "parts/position_form.html", page, status=422 if form.errors else 200)


@signed_in
@require_safe
def location(request, pk):
    return render(request, "parts/location.html", _page(request, location_or_404(pk)))


def _page(request, place, **more):
    roles = request.user.role_names
    events = Event.objects.about_location(place).newest_first().select_related("actor", "checker")
    return {
        "page": str(place),
        "crumbs": _crumbs(place),
        "place": place,
        "inside": list(Location.objects.inside_of(place)),
        "page_obj": Paginator(Component.objects.lying_in(place), A_PAGE).get_page(request.GET.get("page")),
        "photos": list(place.photos.all()[:12]),
        "code": place.tags.current_code(),
        "history": [told(event) for event in events[:15]],
        "put": PutHereForm(),
        "edit": EditLocationForm(initial={"name": place.name, "note": place.note}),
        "carry": MoveCrateForm(),
        "is_locomotive": place.locomotive_id is not None,
        "may_move": may(roles, "move"),
        "may_edit": may(roles, "edit locations"),
        "may_label": may(roles, "print labels"),
        "may_photograph": may(roles, "photograph"),
    } | more


def _crumbs(place):
    found, up = [{"href": "", "label": place.name}], place.parent
    while up:
        found.append({"href": up.get_absolute_url(), "label": up.name})
        up = up.parent
    return [{"href": reverse("locations"), "label": "Where things lie"}, *reversed(found)]


def _answer(request, place, form, key, done):
    """Carry out one of the page's small forms, or show the page again with what was typed and what is wrong."""
    status = 422
    if form.is_valid():
        try:
            messages.success(request, done(form.cleaned_data))
            return redirect("location", place.pk)
        except Refused as refused:
            refuse(form, refused)
            status = status_of(refused.refusals)
    return render(
        request, "parts/location.html", _page(request, location_or_404(place.pk), **{key: form}), status=status
    )


@who_may("move")
@require_POST
def put_here(request, pk):
    place = location_or_404(pk)

    def put(said):
        moving.move(said["piece"], place, request.user)
        return f"{said['piece'].name} now lies in {place}."

    return _answer(request, place, PutHereForm(request.POST), "put", put)


@who_may("move")
@require_POST
def carry(request, pk):
    place = location_or_404(pk)

    def go(said):
        moving.move_location(place, said["to"], request.user, promised_back=said["promised_back"])
        return f"{place.name} is now in {said['to']}." if said["to"] else f"{place.name} now stands by itself."

    return _answer(request, place, MoveCrateForm(request.POST), "carry", go)


@who_may("edit locations")
@require_POST
def edit_location(request, pk):
    place = location_or_404(pk)

    def change(said):
        moving.edit_location(place, request.user, **said)
        return f"{said['name']} is saved."

    return _answer(request, place, EditLocationForm(request.POST), "edit", change)


@who_may("edit locations")
@require_POST
def retire_location(request, pk):
    place = location_or_404(pk)
    try:
        moving.retire_location(place, request.user)
    except Refused as refused:
        page = _page(request, place, refusals=refused.refusals)
        return render(request, "parts/location.html", page, status=status_of(refused.refusals))
    messages.success(request, f"{place} is no longer used; its history stays.")
    return redirect("locations")


@who_may("print labels")
@require_POST
def give_tag(request, pk):
    place = location_or_404(pk)
    tag = issue_for_location(place, request.user)
    messages.success(request, f"{place.name} has the tag {tag.code}. Print its label next.")
    return redirect("location", pk)
