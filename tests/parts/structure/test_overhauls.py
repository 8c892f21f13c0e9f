"""Opening and closing an overhaul."""

import pytest
from django.urls import reverse

from parts.models import Overhaul, Position
from tests.factories import fresh


@pytest.fixture
def address(works):
    return reverse("overhauls", args=[works.locomotive.slug])


def test_one_overhaul_is_open_at_a_time(client, works, people, address):
    client.force_login(people.manager)
    answer = client.post(address, {"do": "open", "reason": "again"})
    assert answer.status_code == 422
    assert "open already" in answer.content.decode()


def test_it_is_not_closed_while_places_are_open(client, works, people, address):
    works.piece()
    client.force_login(people.manager)
    answer = client.post(address, {"do": "close"})
    assert answer.status_code == 422
    assert "not refitted" in answer.content.decode()
    assert works.locomotive.open_overhaul()


def test_the_next_one_puts_every_fitted_piece_in_place_and_its_looks_count_no_more(client, works, people, address):
    piece = works.piece("refitted")
    client.force_login(people.manager)
    assert client.post(address, {"do": "close"}).status_code == 302
    assert client.post(address, {"do": "open", "reason": "ten years on"}).status_code == 302
    assert Overhaul.objects.filter(locomotive=works.locomotive).count() == 2
    assert (fresh(piece).state, piece.fitted_id) == ("in place", piece.place_id)
    assert Position.objects.get(pk=piece.place_id).need == "strip"
    assert piece.bared_event > piece.examinations.get().event_id


def test_only_the_works_manager(client, works, people, address):
    client.force_login(people.engineer)
    assert client.get(address).status_code == 200
    assert client.post(address, {"do": "close"}).status_code == 403
