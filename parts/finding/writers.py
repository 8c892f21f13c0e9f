"""Keeping a filter of the find page under a name. No event: it changes nothing in the register."""

from django.db import IntegrityError

from core.domain.refusals import Refusal, Refused
from core.models.longest import longest

from ..actions.writing import one_transaction
from ..models import SavedFilter

MOST = 60


def save_filter(person, *, name: str, query: str, shared: bool = False) -> SavedFilter:
    """Under a name that this person has not used yet."""
    name = " ".join(name.split())
    _may_be_kept(person, name, query)
    try:
        with one_transaction():
            return SavedFilter.objects.create(person=person, name=name, query=query, shared=shared)
    except IntegrityError:
        taken = f"Name: you have kept a filter as “{name}” already."
        raise Refused(Refusal("taken", taken, "Choose another name, or delete that one first.")) from None


def _may_be_kept(person, name: str, query: str) -> None:
    most = longest(SavedFilter, "name")
    if not name:
        raise Refused(Refusal("name", "Name: say what to call the filter.", "Such as “Boiler, to be cleaned”."))
    if len(name) > most:
        raise Refused(Refusal("name", f"Name: this one has {len(name)} letters.", f"At most {most} fit."))
    if not query:
        raise Refused(Refusal("nothing", "There is nothing to keep.", "Choose a filter or type words first."))
    if SavedFilter.objects.of_person(person).count() >= MOST:
        raise Refused(Refusal("many", f"You have kept {MOST} filters, which is the most.", "Delete one first."))


def delete_filter(saved: SavedFilter, person) -> None:
    """Only by whoever kept it: somebody else's link leads there."""
    if saved.person_id != person.pk:
        whose = f"{saved.person} keeps this filter, so only {saved.person} can delete it."
        raise Refused(Refusal("role", whose, "Ask, or keep one of your own."))
    with one_transaction():
        saved.delete()
