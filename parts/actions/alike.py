"""Pieces of one kind in one subassembly that are refitted or locked in the same way, said once for all of them."""

from collections.abc import Iterator

from django import forms

from core.models import Person
from core.web.widgets import CheckboxList

from .. import facts
from ..domain.plain import capital
from ..domain.states import piece_action, refusals
from ..domain.tagcodes import grouped
from ..domain.words import State
from ..models import Component
from .as_built import held

MOST = 40
BEFORE = {"refit": (State.ACCEPTED, State.RENEWED), "lock": (State.REFITTED,)}


def ask_alike(form: forms.Form, component: Component, actor: Person, word: str) -> None:
    """A box for each that it may be done to now, ahead of the checker. What was ticked before something came against it
    stays, and the refusal names it."""
    ticked = {value for name, value in form.data.items() if name.startswith("alike-")}
    found = [piece for piece, may in _may_be(_alike(component, word), actor, word) if may or str(piece.pk) in ticked]
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


def _may_be(pieces: list[Component], actor: Person, word: str) -> Iterator[tuple[Component, bool]]:
    """Each with whether it may be done to it, as far as is known before anything is typed; what goes first of all goes
    first of the one beside too."""
    if pieces:
        known, action = facts.load(pieces, actor), piece_action(word)
        for piece in pieces:
            yield piece, not refusals(action, known.context(piece))


def _words(piece: Component) -> str:
    assert piece.place is not None  # asked for by its place
    tag = f" {grouped(piece.code)}" if piece.code else ""
    return ", ".join(filter(None, [capital(piece.place.words) + tag, piece.way_round]))
