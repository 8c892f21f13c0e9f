from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

pytestmark = pytest.mark.django_db

WEEK = timedelta(days=7)


@pytest.fixture
def signed_in(client):
    get_user_model().objects.create_user("ada", password="to sign in")
    client.login(username="ada", password="to sign in")
    client.get("/sign-in/")
    return client


def left(client) -> timedelta:
    return client.session.get_expiry_date() - timezone.now()


def days_later(days: float, monkeypatch) -> None:
    real = timezone.now
    monkeypatch.setattr(timezone, "now", lambda: real() + timedelta(days=days))


def test_it_lasts_a_working_week(signed_in):
    assert signed_in.cookies["cotter_session"]["max-age"] == WEEK.total_seconds()
    assert signed_in.cookies["cotter_session"]["httponly"]
    assert signed_in.cookies["cotter_session"]["samesite"] == "Lax"


def test_a_day_of_use_begins_the_week_anew(signed_in, monkeypatch):
    days_later(3, monkeypatch)
    signed_in.cookies["cotter_session"]["max-age"] = ""
    signed_in.get("/sign-in/")
    assert signed_in.cookies["cotter_session"]["max-age"] == WEEK.total_seconds()


def test_the_same_day_writes_nothing_more(signed_in):
    with CaptureQueriesContext(
        connection,
    ) as queries:
        signed_in.get("/sign-in/")
    assert [q["sql"] for q in queries if not q["sql"].startswith("SELECT")] == []


def test_a_week_without_use_ends_it(signed_in, monkeypatch):
    """The sign-in page sends on whoever is signed in already."""
    assert signed_in.get("/sign-in/").status_code == 302
    days_later(7.1, monkeypatch)
    assert signed_in.get("/sign-in/").status_code == 200
