"""A copy away from the building is asked for, and how old the last one is stands before the works manager."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from core.models import Event
from tests.factories import a_cast
from workshop.backups import copies


@pytest.fixture
def people(db):
    return a_cast()


@pytest.fixture
def manager(client, people):
    client.force_login(people.manager)
    return client


def age(monkeypatch, days: int) -> None:
    monkeypatch.setattr(copies.writing, "today", lambda: timezone.localdate() + timedelta(days=days))


@pytest.mark.engine
def test_the_works_manager_writes_down_where_the_copy_is(manager, people):
    assert "there is none yet" in manager.get("/").content.decode()
    assert manager.post(reverse("backups"), {"where": " red stick,  the bank "}).status_code == 302
    [copy] = copies.copies()
    assert (copy.by, copy.where) == (str(people.manager), "red stick, the bank")
    assert copy.seal.startswith("Register ")
    assert "Take a copy" not in manager.get("/").content.decode()


def test_after_a_month_another_is_asked_for(manager, people, monkeypatch):
    copies.took_away(people.manager, "the bank")
    age(monkeypatch, copies.MOST_DAYS)
    assert copies.overdue() == ""
    age(monkeypatch, copies.MOST_DAYS + 1)
    assert "31 days ago" in manager.get("/").content.decode()
    assert "31 days ago" in manager.get(reverse("backups")).content.decode()


def test_nothing_written_is_said(manager):
    answer = manager.post(reverse("backups"), {"where": " "})
    assert answer.status_code == 422
    assert "nothing was written" in answer.content.decode().lower()
    assert not Event.objects.exists()


def test_whose_it_is(client, people):
    address = reverse("backups")
    assert client.get(address).status_code == 302
    for person in (people.volunteer, people.engineer, people.trustee):
        client.force_login(person)
        assert client.get(address).status_code == 403
        assert client.post(address, {"where": "here"}).status_code == 403
        assert "Take a copy" not in client.get("/").content.decode()
    client.force_login(people.manager)
    assert client.delete(address).status_code == 405
