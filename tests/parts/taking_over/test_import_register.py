"""The page that takes a list over: look first, then take it over; every refusal a 4xx with what to do about it."""

import html
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from parts.models import Position
from tests.parts.a_list import ROWS, as_csv, as_xlsx, one_row
from tests.tables import for_each

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client, works):
    client.force_login(works.people.manager)
    return f"/l/{works.locomotive.slug}/import/"


def upload(content: bytes, name="list.csv") -> dict:
    return {"file": SimpleUploadedFile(name, content)}


def packed_in(answer) -> str:
    return html.unescape(re.search(r'name="packed" value="([^"]+)"', answer.content.decode())[1])


def test_the_page_says_what_a_list_may_say(client, page):
    answer = client.get(page)
    assert answer.status_code == 200
    assert "safety_critical" in answer.content.decode()


@pytest.mark.parametrize(("content", "name"), [(as_csv(), "list.csv"), (as_xlsx(), "list.xlsx")])
def test_a_list_is_looked_over_then_taken_over(client, page, content, name):
    looked = client.post(page, upload(content, name))
    assert looked.status_code == 200
    assert "22 positions" in looked.content.decode()
    assert Position.objects.count() == 0
    taken = client.post(page, {"packed": packed_in(looked)}, follow=True)
    assert "Taken over from " + name in taken.content.decode()
    assert Position.objects.count() == len(ROWS)


def test_the_same_list_again_has_nothing_to_add(client, page):
    client.post(page, {"packed": packed_in(client.post(page, upload(as_csv())))})
    again = client.post(page, upload(as_csv())).content.decode()
    assert "Nothing to add" in again
    assert 'name="packed"' not in again


def test_every_bad_row_is_shown_with_its_mend_and_only_the_others_may_go_in(client, page):
    rows = [
        *ROWS,
        one_row(subassembly="F", position="a", quantity="some"),
        one_row(subassembly="F", position="b", tag="7"),
    ]
    answer = client.post(page, upload(as_csv(rows)))
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "Row&nbsp;24" in text
    assert "Row&nbsp;25" in text
    assert f"Take over the {len(ROWS)} good rows" in text


@for_each(
    ("content", "sentence"),
    [
        (b"", "The file is empty"),
        (b"\x89PNG\0", "neither a CSV file nor an Excel workbook"),
        (b"subassembly,position\nF,\x81", "not coded as UTF-8"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_beside_its_field(client, page, content, sentence):
    answer = client.post(page, upload(content))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_no_file_is_refused(client, page):
    answer = client.post(page, {})
    assert answer.status_code == 422
    assert "No file was chosen" in answer.content.decode()


def test_a_file_too_large_for_the_page_is_sent_to_the_command(client, page, monkeypatch):
    monkeypatch.setattr("parts.taking_over.views.MOST_ON_SCREEN_BYTES", 100)
    answer = client.post(page, upload(as_csv()))
    assert answer.status_code == 422
    assert "manage.py import_register" in answer.content.decode()


@for_each("packed", ["", "nonsense", "a:b:c"])
def test_a_list_that_nobody_looked_over_is_refused(client, page, packed):
    answer = client.post(page, {"packed": packed})
    assert answer.status_code == 422
    assert "Choose the file again" in answer.content.decode()


def test_a_list_looked_over_by_another_or_for_another_locomotive_is_refused(client, page, works):
    packed = packed_in(client.post(page, upload(as_csv())))
    works.people.engineer.groups.set(works.people.manager.groups.all())
    client.force_login(works.people.engineer)
    assert client.post(page, {"packed": packed}).status_code == 422
    assert Position.objects.count() == 0


def test_only_the_works_manager_comes_here(client, page, works):
    for person in works.people:
        client.force_login(person)
        assert client.get(page).status_code == (200 if person == works.people.manager else 403)
    client.logout()
    assert client.get(page).status_code == 302


def test_another_locomotive_is_not_found(client, page):
    assert client.get("/l/no-such/import/").status_code == 404
