"""A readiness page that would be the same again costs one small question and no page."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.roles import Role
from parts.common import etag
from tests.factories import a_works
from tests.tables import for_each
from workshop.accounts.writers.people import save_person


@pytest.fixture(autouse=True)
def one_after_the_other(monkeypatch):
    """As on SQLite, whatever engine the tests run on."""
    monkeypatch.setattr(etag, "numbers_tell", lambda: True)


@pytest.fixture
def pages(works):
    slug = works.locomotive.slug
    return [
        works.locomotive.get_absolute_url(),
        reverse("next", args=[slug]),
        reverse("order", args=[slug]),
        reverse("diagram", args=[slug]),
        reverse("subassembly", args=[slug, works.frames.code]),
    ]


@pytest.mark.engine
def test_nothing_changed_so_nothing_is_sent(client, works, people, pages):
    client.force_login(people.manager)
    for page in pages:
        client.get(page)
        first = client.get(page)
        again = client.get(page, headers={"If-None-Match": first["ETag"]})
        assert (first.status_code, again.status_code, again.content) == (200, 304, b"")
        assert "no-cache" in first["Cache-Control"]
        assert "private" in first["Cache-Control"]


def test_it_asks_only_for_the_newest_event(client, works, people, pages):
    client.force_login(people.manager)
    client.get(pages[0])
    tag = client.get(pages[0])["ETag"]
    with CaptureQueriesContext(connection) as asked:
        client.get(pages[0], headers={"If-None-Match": tag})
    ours = [q["sql"] for q in asked.captured_queries if "parts_" in q["sql"]]
    assert len(ours) == 1
    assert "parts_event" in ours[0]


def test_a_page_that_is_the_same_again_does_nothing_besides(client, works, people, pages):
    """Looking at one locomotive again makes it the one looked at last, so that page comes whole; only after that is it
    answered with a 304, which has nothing to remember and leaves the session alone."""
    client.force_login(people.manager)
    other = a_works(people=people).locomotive
    client.get(pages[0])
    tag = client.get(pages[0])["ETag"]
    client.get(other.get_absolute_url())
    assert client.get(pages[0], headers={"If-None-Match": tag}).status_code == 200
    assert client.get(reverse("next_anywhere")).url == reverse("next", args=[works.locomotive.slug])
    before = dict(client.session)
    with CaptureQueriesContext(connection) as asked:
        assert client.get(pages[0], headers={"If-None-Match": tag}).status_code == 304
    assert dict(client.session) == before
    assert not [query for query in asked.captured_queries if not query["sql"].startswith("SELECT")]


@for_each("number", range(5))
def test_every_page_of_a_locomotive_is_one_that_it_was_looked_at_on(client, works, people, pages, number):
    client.force_login(people.manager)
    client.get(a_works(people=people).locomotive.get_absolute_url())
    client.get(pages[number])
    assert client.get(reverse("next_anywhere")).url == reverse("next", args=[works.locomotive.slug])


def test_whatever_happens_brings_the_page_anew(client, works, people, pages):
    client.force_login(people.manager)
    piece = works.piece()
    for page in pages:
        tag = client.get(page)["ETag"]
        works.clean(piece) if piece.state == "stripped" else works.look_at(piece)
        assert client.get(page, headers={"If-None-Match": tag}).status_code == 200


def test_each_person_has_a_copy_of_their_own_and_loses_it_with_a_role(client, works, people, pages):
    client.force_login(people.manager)
    tag = client.get(pages[0])["ETag"]
    client.force_login(people.trustee)
    assert client.get(pages[0], headers={"If-None-Match": tag}).status_code == 200
    own = client.get(pages[0])["ETag"]
    save_person(people.trustee, people.manager, name="Trustee", username="trustee", roles=[Role.VOLUNTEER])
    assert client.get(pages[0], headers={"If-None-Match": own}).status_code == 200


@pytest.mark.engine
def test_a_message_that_waits_is_shown(client, works, people, pages):
    client.force_login(people.manager)
    tag = client.get(pages[0])["ETag"]
    people.manager.set_password("the first one 11")
    people.manager.save()
    client.force_login(people.manager)
    client.post(reverse("me"), {"old": "the first one 11", "new": "the second one 22"})
    shown = client.get(pages[0], headers={"If-None-Match": tag})
    assert shown.status_code == 200
    assert "Your password is changed." in shown.content.decode()


def test_where_numbers_do_not_tell_what_came_last_every_page_is_made_anew(client, works, people, pages, monkeypatch):
    monkeypatch.setattr(etag, "numbers_tell", lambda: False)
    client.force_login(people.manager)
    answer = client.get(pages[0], headers={"If-None-Match": "*"})
    assert (answer.status_code, "ETag" in answer) == (200, False)
