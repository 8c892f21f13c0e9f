"""What views share: finding the thing of an address, and answering a refusal with the status it deserves."""

from collections.abc import Iterable

from django.db.models import QuerySet
from django.http import Http404
from django.urls import reverse

from core.domain.refusals import Refusal
from parts.models import Renewal

from ..domain.tagcodes import TagError, check
from ..models import Component, Location, Locomotive, Pattern, Position, Subassembly, Tag
from ..queries.prepared import prepared

STATUS = {"role": 403, "not-authorised": 403, "stale": 409}


def status_of(refusals: Iterable[Refusal]) -> int:
    """403 where the person may not, 409 where somebody was quicker, otherwise 422: the form can be mended. 200 where
    nothing was refused."""
    codes = [refusal.code for refusal in refusals]
    return next((STATUS[code] for code in codes if code in STATUS), 422 if codes else 200)


def locomotive_or_404(slug: str) -> Locomotive:
    try:
        return Locomotive.objects.get(slug=slug)
    except Locomotive.DoesNotExist:
        raise Http404(f"No locomotive is called “{slug}” here.") from None


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
        raise Http404("That tag hangs on no piece.")
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


def renewal_or_404(pk) -> Renewal:
    try:
        return Renewal.objects.for_page().get(pk=pk)
    except Renewal.DoesNotExist:
        raise Http404("No such renewal.") from None
