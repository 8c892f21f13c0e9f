"""Pieces of one kind in one subassembly that are refitted or locked in the same way, said once for all of them."""

from django import forms

from core.web.widgets import CheckboxList

from ..domain.plain import capital
from ..domain.tagcodes import grouped
from ..domain.words import State
from ..models import Component
from .as_built import held

MOST = 40
BEFORE = {"refit": (State.ACCEPTED, State.RENEWED), "lock": (State.REFITTED,)}


def ask_alike(form: forms.Form, component: Component, word: str) -> None:
    """A box for each, ahead of the checker."""
    found = _alike(component, word)
    if not found and not any(name.startswith("alike-") for name in form.data):
        return
    form.fields["alike"] = forms.MultipleChoiceField(
        label="Done in the same way",
        help_text="Tick the others that you tightened and locked like this one. Each gets an entry of its own, with "
        "the same names. Shims and figures are written on each by itself.",
        choices=[(str(piece.pk), _words(piece)) for piece in found],
        required=False,
        widget=CheckboxList,
        error_messages={"invalid_choice": "One of these was done meanwhile. Open the page again."},
    )


def _alike(component: Component, word: str) -> list[Component]:
    place = component.place
    if place is None:
        return []
    rows = Component.objects.live().filter(
        state__in=[state.value for state in BEFORE[word]], left_alone=False, on_trial=False,
        place__subassembly=place.subassembly_id, place__name=place.name, place__safety_critical=place.safety_critical,
    )  # fmt: skip
    found = list(rows.exclude(pk=component.pk).select_related("place").with_codes().order_by("place", "pk"))
    if word == "lock" and found:
        how = held([piece.pk for piece in found])
        found = [piece for piece in found if not how[piece.pk].locked and not how[piece.pk].outside]
    return found[:MOST]


def _words(piece: Component) -> str:
    assert piece.place is not None  # asked for by its place
    tag = f" {grouped(piece.code)}" if piece.code else ""
    return ", ".join(filter(None, [capital(piece.place.words) + tag, piece.way_round]))
