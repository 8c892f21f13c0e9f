"""The factories bring a piece to every state by real actions or by the same rows, so no test stands on a piece that
cannot come about."""

import pytest
from django.apps import apps

from inspections.models import Examination
from inspections.records.digests import differing
from parts.domain.words import State
from parts.models import Component
from tests import inserted
from tests.factories import events_of, fresh
from tests.tables import for_each


@for_each("state", State)
def test_a_piece_can_be_had_at_every_state(works, state):
    assert works.piece(state).state == state


@for_each("state", [s for s in State if s is not State.IN_PLACE])
def test_a_safety_critical_piece_can_too(works, state):
    piece = works.piece(state, place=works.critical_place())
    assert piece.state == state
    assert events_of(piece).filter(to_state=state).exists()


PLACES = {
    "plain": {},
    "critical": {
        "crack_check": "magnetic particle",
        "surfaces": ["wheel seat", "journal"],
        "safety_critical": True,
    },
    "measured": {"calls_for": ["dimensional"], "crack_check": "any", "surfaces": ["bore"]},
    "measured only": {"calls_for": ["dimensional"]},
    "a lot": {"quantity": 3},
}


STEPS = {State.CLEANED: "clean", State.CRACK_CHECKED: "look_at", State.ACCEPTED: "accept", State.REFITTED: "refit"}


@pytest.mark.parametrize("fields", PLACES)
def test_inserted_rows_are_those_that_the_actions_write(works, fields):
    """One piece goes the whole way by actions; at each state another is put beside it. All that is stored of each is
    the same, but for numbers, times, codes and names of places."""
    walked = works.piece(place=works.plain_place(**PLACES[fields]))
    for state in inserted.WAY:
        if step := STEPS.get(state):
            getattr(works, step)(walked)
        if state is State.CRACK_CHECKED and "crack_check" not in PLACES[fields]:
            continue  # nothing is called crack-checked there
        piece = works.piece(place=works.plain_place(**PLACES[fields]))
        assert inserted.can_insert(piece, state)
        works.bring_on(piece, state)
        assert stored(piece) == stored(walked)
        assert piece.state == state
    assert list(differing(Examination.objects.all())) == []


def stored(piece) -> dict:
    """Every row that names the piece, and its place; numbers of its events as their order."""
    fresh(piece)
    order = {pk: turn for turn, pk in enumerate(events_of(piece).order_by("id").values_list("id", flat=True), 1)}
    rows = {"piece": [values(piece, order)], "place": [values(fresh(piece.place), order)]}
    for model in apps.get_models():
        if names := [field.name for field in model._meta.fields if field.related_model is Component]:
            found = model.objects.filter(**{names[0]: piece}).order_by("pk")
            rows[model._meta.label] = [values(row, order) for row in found]
    return rows


OWN = {
    "id",
    "at",
    "end",
    "code",
    "issued",
    "signed_at",
    "digest",
    "component_id",
    "position_id",
    "place_id",
    "came_off_id",
}


def values(row, order) -> dict:
    values = {field.attname: getattr(row, field.attname) for field in row._meta.fields if field.attname not in OWN}
    for name in values:
        if name.endswith("_event") or name == "event_id":
            values[name] = order.get(values[name], 0)
    if "fitted_id" in values:
        values["fitted_id"] = values["fitted_id"] and values["fitted_id"] == row.place_id
    if "subject" in values:
        values["subject"] = {key: word for key, word in values["subject"].items() if key not in ("tag", "place")}
    return values
