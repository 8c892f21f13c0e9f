"""The service worker is served from the top, and every page says whose it is."""

import pytest

from tests.factories import a_cast

pytestmark = pytest.mark.django_db


def test_it_answers_for_every_page_and_is_asked_for_anew_each_time(client):
    answer = client.get("/sw.js")
    assert answer.status_code == 200
    assert answer.headers["Content-Type"].startswith("text/javascript")
    assert "no-store" in answer.headers["Cache-Control"]
    assert client.post("/sw.js").status_code == 405


def test_every_page_says_whose_it_is_and_nobodys_page_does_not(client):
    people = a_cast()
    assert "X-Cotter-Whose" not in client.get("/sign-in/").headers
    for person in (people.volunteer, people.fitter):
        client.force_login(person)
        assert client.get("/").headers["X-Cotter-Whose"] == str(person.pk)
