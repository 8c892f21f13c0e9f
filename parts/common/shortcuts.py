"""What views share: finding the thing of an address, carrying a form out or saying why not, and telling what was done.

form = RackForm(request.POST or None)
if request.method == "POST" and form.is_valid():
    with refusals_on(form):
        add_rack(request.user, **form.cleaned_data)
        return redirect("racks")
return render(request, "rack.html", {"form": form}, status=status_in(form))
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from django.contrib import messages
from django.db.models import QuerySet
from django.http import Http404
from django.urls import reverse

from core.domain.refusals import Refusal, Refused
from core.models import Event
from core.models.prepared import prepared
from core.web.two_at_once import side_by_side

from ..actions.fields import refuse
from ..actions.perform import undoable_acts
from ..domain.tagcodes import TagError, check
from ..models import Component, Location, Locomotive, Pattern, Position, Renewal, Subassembly, Tag

STATUS = {"role": 403, "not-authorised": 403, "stale": 409}
CRATE = "crate"
"""Where the session keeps the crate that a person is filling."""
MOST_UNDONE = 100
"""More are told without a button: the list of what one just did has them all."""

# --- finding the thing of an address


def locomotive_or_404(slug: str) -> Locomotive:
    found = _locomotives({"slug": slug})
    if not found:
        raise Http404(f"No locomotive is called “{slug}” here.")
    return found[0]


@prepared
def _locomotives(scope: dict) -> QuerySet[Locomotive]:
    return Locomotive.objects.filter(**scope)


def subassembly_or_404(slug: str, code: str) -> Subassembly:
    try:
        found = Subassembly.objects.select_related("locomotive", "parent").get(locomotive__slug=slug, code=code)
    except Subassembly.DoesNotExist:
        raise Http404("No such subassembly.") from None
    return _what_it_became(found)


def _what_it_became(found):
    """The one that it was merged into, where it was entered twice."""
    while found.merged_into_id:
        found = found.merged_into
    return found


def tag_or_404(code: str) -> Tag:
    """The tag of a scanned or typed code; its confusable letters and its case are forgiven."""
    try:
        found = _tags({"code": check(code)})
    except TagError as trouble:
        raise Http404(str(trouble)) from None
    if not found:
        raise Http404("No such tag was ever printed here.")
    return found[0]


@prepared
def _tags(scope: dict) -> QuerySet:
    return Tag.objects.select_related("component", "location", "pattern").filter(**scope)


def component_or_404(code: str) -> Component:
    """The piece that a tag hangs on, with its place and where it lies."""
    tag = tag_or_404(code)
    if tag.component_id is None:
        raise Http404("That tag is not tied to a piece.")
    (component,) = _for_page({"pk": tag.component_id})
    return component


@prepared
def _for_page(scope: dict) -> QuerySet:
    return Component.objects.for_page().filter(**scope)


def position_or_404(pk: int) -> Position:
    try:
        found = Position.objects.select_related("locomotive", "subassembly", "part_of").get(pk=pk)
    except Position.DoesNotExist:
        raise Http404("No such position.") from None
    return _what_it_became(found)


def location_or_404(pk: int) -> Location:
    try:
        return Location.objects.select_related("parent", "locomotive").get(pk=pk)
    except Location.DoesNotExist:
        raise Http404("No such place where things lie.") from None


def pattern_or_404(pk: int) -> Pattern:
    try:
        return Pattern.objects.for_page().get(pk=pk)
    except Pattern.DoesNotExist:
        raise Http404("No such pattern.") from None


def words_in(request, name: str) -> str:
    """What was typed into a search box: blanks closed up, what no database takes left out, at a bearable length."""
    return " ".join(request.GET.get(name, "").replace("\0", " ").split())[:100]


def crumbs(subassembly, locomotive=None):
    """From the locomotive down to the subassembly; `locomotive` where it was read already."""
    locomotive = locomotive or subassembly.locomotive
    found, sub = [], subassembly
    while sub:
        found.append({"href": reverse("subassembly", args=[locomotive.slug, sub.code]), "label": sub.name})
        sub = sub.parent
    found.append({"href": locomotive.get_absolute_url(), "label": locomotive.name})
    return found[::-1]


def tabs(engine, current: str) -> list[dict]:
    """The ways of looking at one locomotive."""
    slug = engine.slug
    return [
        {"href": engine.get_absolute_url(), "label": "Readiness", "current": current == "readiness"},
        {"href": reverse("next", args=[slug]), "label": "What to do next", "current": current == "next"},
        {"href": reverse("forecast", args=[slug]), "label": "When", "current": current == "forecast"},
        {"href": reverse("order", args=[slug]), "label": "Order of assembly", "current": current == "order"},
        {"href": reverse("structure", args=[slug]), "label": "Structure", "current": current == "structure"},
        {"href": reverse("holds", args=[slug]), "label": "Hold points", "current": current == "holds"},
    ]


def renewal_or_404(pk) -> Renewal:
    try:
        return Renewal.objects.for_page().get(pk=pk)
    except Renewal.DoesNotExist:
        raise Http404("No such renewal.") from None


# --- refusing


def status_of(refusals: Iterable[Refusal]) -> int:
    """403 where the person may not, 409 where somebody was quicker, otherwise 422: the form can be mended. 200 where
    nothing was refused."""
    codes = [refusal.code for refusal in refusals]
    return next((STATUS[code] for code in codes if code in STATUS), 422 if codes else 200)


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


# --- telling what was done


def say_done(request, sentence: str, events: Iterable[Event]) -> None:
    """With a button that undoes it. `events`: what was written, as `core.log.writing.written` collects it."""
    numbers = undoable_acts(events)
    several = " ".join(map(str, numbers)) if len(numbers) <= MOST_UNDONE else ""
    messages.success(request, sentence, extra_tags=several)


def remembered_crate(request) -> str:
    """The path of the place where this person put the last piece; nothing if it is no longer used."""
    pk = request.session.get(CRATE)
    place = Location.objects.in_use().filter(pk=pk).first() if pk else None
    return place.path if place else ""


def remember_crate(request, place: Location | None) -> None:
    if place is not None and request.session.get(CRATE) != place.pk:
        request.session[CRATE] = place.pk
