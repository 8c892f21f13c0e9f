"""A lot of which some pass and some do not: the failed part is split off and renewed, on the screens."""

import pytest
from django.urls import reverse

from parts.domain.words import State
from parts.models import Component, Renewal
from tests.factories import fresh

pytestmark = pytest.mark.django_db


def at(piece, ending="") -> str:
    return f"{reverse('tag', args=[piece.tags.current_code()])}{ending}"


def test_the_failed_part_of_a_lot_is_renewed_on_the_screens(client, works):
    place = works.plain_place(name="stay", quantity=10)
    lot = works.piece(State.CLEANED, place=place)
    client.force_login(works.people.storekeeper)
    client.post(at(lot, "/split"), {"quantity": 4, "seen": fresh(lot).last_event})
    part = Component.objects.get(place=place, quantity=4)
    works.find_fault(part)

    client.force_login(works.people.engineer)
    page = client.get(at(part, "/decide")).content.decode()
    assert "How many are renewed" in page
    entered = {
        "outcome": "renew", "reason": "wasted at the thread", "route": "buy", "withdraw_now": "on",
        "destination": "scrapped", "override": "bought to the drawing", "examined-0": part.examinations.get().event_id,
    }  # fmt: skip
    options = {f"way-{n}-currency": "GBP" for n in range(1, 4)} | {f"way-{n}-unit": "weeks" for n in range(1, 4)}
    answer = client.post(at(part, "/decide"), entered | options)
    assert answer.status_code == 302, answer.content.decode()
    renewal = Renewal.objects.get()
    assert (renewal.quantity, renewal.replaces, fresh(part).state) == (4, part, State.WITHDRAWN)
    assert fresh(place).need == "await"

    client.force_login(works.people.manager)
    for step in renewal.steps.all():
        client.post(reverse("finish_step", args=[step.pk]), {"done": "", "note": ""})
    client.post(reverse("begin_piece", args=[renewal.pk]), {"name": "stay", "quantity": "4", "location": ""})
    new = renewal.pieces.get()
    works.look_at(new)
    client.force_login(works.people.engineer)
    passing = {"protection": "oiled", "look_again": "2100-01-01", "seen": fresh(new).last_event}
    assert client.post(at(new, "/do/pass"), passing).status_code == 302
    assert (fresh(new).state, new.quantity) == (State.RENEWED, 4)
    assert sum(piece.quantity for piece in place.pieces.live()) == 10
    assert at(new) in client.get(at(part)).content.decode()
