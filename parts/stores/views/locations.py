"""Where things lie: the tree, one place with what is in it, adding, renaming and retiring places."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.log.writing import written
from core.models import Event
from core.web.two_at_once import side_by_side
from parts.actions.fields import refuse
from parts.common.list_table import Column, ListTable
from parts.common.piece_context import told
from parts.common.shortcuts import (
    location_or_404,
    refusals_on,
    remember_crate,
    say_done,
    status_in,
    status_of,
    words_in,
)
from parts.domain.plain import capital, several
from parts.domain.tagcodes import grouped
from parts.labels import printing
from parts.models import Component, Location, Movement, Pattern, Photo, StockTake
from parts.tags.writers import issue_for_location

from .. import writers
from ..forms import EditLocationForm, LocationForm, MoveCrateForm, PutHereForm

A_PAGE = 100
SHORT_TREE = 40
COLUMNS = (
    Column("place", "Place", lambda place: place.path),
    Column("kind", "What it is", lambda place: capital(place.get_kind_display())),
    Column("inside", "Places inside", lambda place: place.places or None),
    Column("pieces", "Pieces", lambda place: place.pieces, num=True),
    Column("", "Note", lambda place: place.note),
)


@signed_in
@require_safe
def locations(request):
    """The tree. A long one is shown two deep, for a phone; a word finds the rest, or everything is shown on request."""
    text, every = words_in(request, "q"), "all" in request.GET
    table = ListTable(request, COLUMNS, "places")
    rows = table.in_order(Location.objects.called(text).as_tree())
    if table.saves:
        return table.file(rows)
    folded = not (text or every or table.whole) and len(rows) > SHORT_TREE
    page = {
        "page": "Where things lie",
        "q": text,
        "count": several(len(rows), "place"),
        "folded": folded,
        "table": table,
        "rows": [place for place in rows if place.depth < 2] if folded else rows,
        "retired": [] if text else list(Location.objects.no_longer_used()),
        "may_edit": may(request.user.role_names, "edit locations"),
    }
    return render(request, "parts/stores/locations.html", page)


@who_may("edit locations")
@require_http_methods(["GET", "HEAD", "POST"])
def add_location(request):
    inside = Location.objects.by_number(request.GET.get("in"))
    form = LocationForm(request.POST or None, initial={"parent": inside.path if inside else ""})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.add_location(request.user, **form.cleaned_data)
            messages.success(request, f"{made} is added. Next: print its label.")
            return redirect(made)
    form.fields["parent"].offer()
    page = {
        "page": "A new place where things lie",
        "form": form,
        "back": inside.get_absolute_url() if inside else reverse("locations"),
        "crumbs": [{"href": reverse("locations"), "label": "Where things lie"}, {"href": "", "label": "New"}],
    }
    return render(request, "parts/common/position_form.html", page, status=status_in(form))


@signed_in
@require_safe
def location(request, pk):
    return show(request, location_or_404(pk))


def show(request, place, status=200, **more):
    """One place: what lies in it, what stands in it, what came and went."""
    roles = request.user.role_names
    page = Paginator(Component.objects.lying_in(place), A_PAGE).get_page(request.GET.get("page"))
    pictures = Photo.objects.latest_of(page.object_list)
    for piece in page.object_list:
        piece.picture = pictures.get(piece.pk, "")
    code = place.tags.current_code()
    carry, events = more.get("carry") or MoveCrateForm(), _last_events(place)
    carry.fields["to"].offer()
    shown = {
        "page": str(place),
        "crumbs": _crumbs(place),
        "place": place,
        "inside": Location.objects.inside_of(place),
        "page_obj": page,
        "counted": StockTake.objects.last_of(place),
        "being_counted": StockTake.objects.open_at(place),
        "may_count": may(roles, "stock-take"),
        "patterns": list(Pattern.objects.lying_in(place)),
        "photos": place.photos.all()[:12],
        "code": code,
        "label_news": printing.label_news(place, code),
        "history": [told(event) for event in events],
        "traffic": Movement.objects.to_or_from(place),
        "sent": Movement.objects.last_of_crate(place) if place.away else None,
        "put": PutHereForm(),
        "edit": EditLocationForm(initial=_as_it_is(place, events)),
        "is_locomotive": place.locomotive_id is not None,
        "may_move": may(roles, "move"),
        "may_edit": may(roles, "edit locations"),
        "may_label": may(roles, "print labels"),
        "may_photograph": may(roles, "photograph"),
    }
    return render(request, "parts/stores/location.html", shown | {"carry": carry} | more, status=status)


def _crumbs(place):
    above = [{"href": up.get_absolute_url(), "label": up.name} for up in Location.objects.above(place)]
    return [{"href": reverse("locations"), "label": "Where things lie"}, *above, {"href": "", "label": place.name}]


def _last_events(place) -> list[Event]:
    return list(Event.objects.about("location", place.pk).for_telling()[:15])


def _as_it_is(place, events: list[Event]) -> dict:
    """What its form shows; no edit of it is later than the last event."""
    return {"name": place.name, "note": place.note, "seen": events[0].pk if events else 0}


def _answer(request, place, form, key, done):
    """Carry out one of the page's small forms, or show the page again with what was typed and what is wrong."""
    status = 422
    refusals: tuple[Refusal, ...] = ()
    if form.is_valid():
        try:
            with written() as events:
                sentence = done(form.cleaned_data)
            say_done(request, sentence, events)
            return redirect("location", place.pk)
        except Refused as refused:
            refuse(form, refused)
            side_by_side(form)
            status = status_of(refused.refusals)
            if place.retired or place.locomotive_id:  # where the page no longer has the form to say it beside
                refusals = refused.refusals
    return show(request, location_or_404(place.pk), status, refusals=refusals, **{key: form})


@who_may("move")
@require_POST
def put_here(request, pk):
    """One piece or many, by their tags; the next one that is stripped is offered this place too."""
    place = location_or_404(pk)

    def put(entered):
        pieces = entered["pieces"]
        writers.move_many(pieces, place, request.user)
        remember_crate(request, place)
        if len(pieces) == 1:
            return f"{capital(pieces[0].name)} now lies in {place}."
        return f"{several(len(pieces), 'piece')} now lie in {place}."

    return _answer(request, place, PutHereForm(request.POST), "put", put)


@who_may("move")
@require_POST
def carry(request, pk):
    place = location_or_404(pk)

    def go(entered):
        writers.move_location(place, entered["to"], request.user, promised_back=entered["promised"])
        what = f"{place.name}, with all that is in it,"
        return f"{what} is now in {entered['to']}." if entered["to"] else f"{what} now stands by itself."

    return _answer(request, place, MoveCrateForm(request.POST), "carry", go)


@who_may("edit locations")
@require_POST
def edit_location(request, pk):
    place = location_or_404(pk)

    def change(entered):
        writers.edit_location(place, request.user, **entered)
        return f"{entered['name']} is saved."

    form = EditLocationForm(request.POST, initial=_as_it_is(place, _last_events(place)))
    return _answer(request, place, form, "edit", change)


@who_may("edit locations")
@require_POST
def retire_location(request, pk):
    return _at_once(request, pk, writers.retire_location, "{} is no longer offered; its history stays.")


@who_may("edit locations")
@require_POST
def use_location_again(request, pk):
    return _at_once(request, pk, writers.use_again, "{} is in use again, with its tag and its history.")


@who_may("print labels")
@require_POST
def give_tag(request, pk):
    place = location_or_404(pk)
    tag = issue_for_location(place, request.user)
    messages.success(request, f"{place.name} has the tag {grouped(tag.code)}. Next: print its label.")
    return redirect("location", pk)


def _at_once(request, pk, action, done):
    place = location_or_404(pk)
    try:
        action(place, request.user)
    except Refused as refused:
        return show(request, place, status_of(refused.refusals), refusals=refused.refusals)
    messages.success(request, done.format(place))
    return redirect("location", pk)
