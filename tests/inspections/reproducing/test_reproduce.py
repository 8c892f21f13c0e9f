"""The sizes that a successor must match, on the screen."""

import pytest
from django.urls import reverse

from inspections.models import TakenSize
from parts.domain.words import State
from tests.factories import fresh
from tests.parts.jobs import a_renewal

pytestmark = pytest.mark.django_db

SAID = {"what": "overall length", "unit": "in", "size": "9 1/2", "tolerance": "±1/64 in", "with_what": "rule"}


@pytest.fixture
def condemned(works):
    piece = works.piece(State.CLEANED)
    a_renewal(works, piece.place)
    return fresh(piece)


def page_of(piece, name="reproduce") -> str:
    return reverse(name, args=[piece.tags.current_code()])


def test_sizes_are_taken_one_after_another_and_shown_on_the_renewal(client, works, condemned):
    client.force_login(works.people.second_engineer)
    assert "Take them" in client.get(page_of(condemned, "tag")).content.decode()
    answer = client.post(page_of(condemned), SAID, follow=True).content.decode()
    assert "9.5 in (241.3 mm)" in answer
    assert "Take another" in answer
    renewal = client.get(condemned.place.renewals.get().get_absolute_url()).content.decode()
    assert "Overall length: 9 1/2 in ±1/64 in" in renewal
    assert "to be measured" in renewal


def test_what_cannot_be_read_stays_as_it_was_typed(client, works, condemned):
    client.force_login(works.people.examiner)
    answer = client.post(page_of(condemned), SAID | {"size": "about nine"})
    assert answer.status_code == 422
    assert 'value="about nine"' in answer.content.decode()
    assert not TakenSize.objects.exists()


@pytest.mark.engine
def test_why_none_is_taken_is_told(client, works, condemned):
    client.force_login(works.people.examiner)
    none = page_of(condemned, "nothing_to_reproduce")
    assert client.post(none, {"reason": ""}).status_code == 422
    assert "past measuring" in client.post(none, {"reason": "broken past measuring"}, follow=True).content.decode()


def test_only_who_examines_takes_sizes_and_only_the_engineer_sets_them(client, works, condemned):
    client.force_login(works.people.fitter)
    assert client.get(page_of(condemned)).status_code == 200
    assert client.post(page_of(condemned), SAID).status_code == 403
    client.force_login(works.people.examiner)
    client.post(page_of(condemned), SAID)
    setting = reverse("set_taken_size", args=[TakenSize.objects.get().pk])
    assert client.post(setting).status_code == 403
    client.force_login(works.people.engineer)
    client.post(setting)
    assert TakenSize.objects.get().dimension.editions.count() == 1
    assert client.post(setting, follow=True).status_code == 200
    assert client.post(reverse("set_taken_size", args=[0])).status_code == 404


def test_withdrawing_asks_for_them_first_with_a_way_there(client, works, condemned):
    client.force_login(works.people.engineer)
    answer = client.get(f"{page_of(condemned, 'tag')}/do/withdraw").content.decode()
    assert page_of(condemned) in answer
    assert 'name="override"' in answer
