"""A draft that a phone kept: whether its record was signed meanwhile, and whether somebody else was at its piece."""

from django.urls import Resolver404, ResolverMatch, resolve

from core.domain.numbers import as_number
from core.models import Event
from inspections.measuring.views import NAMES
from inspections.models import Examination
from inspections.records.forms import SHEETS
from parts.domain.words import Kind
from parts.models import Tag

KINDS = {name: kind for kind, name in SHEETS.items()} | {name: kind.value for kind, name in NAMES.items()}
"""Of each page on which one kind of record is written."""


def since(person, address: str, seen: str) -> dict[str, bool]:
    """`over`: this person signed the record that the draft was of. `others`: somebody else changed its piece; so it is
    taken to be where the page is of no piece."""
    match = _match(address)
    tag = Tag.objects.filter(code=match.kwargs["code"].upper()).first() if match and "code" in match.kwargs else None
    number = as_number(seen)
    if match is None or tag is None or tag.component_id is None or number is None:
        return {"over": False, "others": True}
    later = Event.objects.about("piece", tag.component_id).filter(pk__gt=number)
    signed = Examination.objects.filter(component=tag.component_id, signed_by=person, event_id__gt=number)
    return {
        "over": signed.filter(kind__in=_kinds(match)).exists(),
        "others": later.exclude(actor=person).exists(),
    }


def _match(address: str) -> ResolverMatch | None:
    try:
        return resolve(address.split("?")[0])
    except Resolver404:
        return None


def _kinds(match: ResolverMatch) -> list[str]:
    name = match.url_name or ""
    if name in KINDS:
        return [KINDS[name]]
    if name == "sign_record":
        return [match.kwargs["slug"].replace("-", " ")]
    return [kind.value for kind in Kind if kind.value not in KINDS.values()] if name == "examine" else []
