"""The pages for what went wrong: each says what to do next, and needs no more than it is given."""

import pytest
from django.template.loader import render_to_string
from django.test import Client


@pytest.mark.django_db
def test_an_unknown_address_says_so(client):
    answer = client.get("/no/such/place/")
    assert answer.status_code == 404
    assert "<h1>Nothing here</h1>" in answer.content.decode()


@pytest.mark.django_db
def test_a_form_without_its_proof_of_origin_is_to_be_sent_again():
    answer = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "ada", "password": "x"})
    assert answer.status_code == 403
    assert "<h1>Please send that again</h1>" in answer.content.decode()


@pytest.mark.parametrize("page", ["400", "403", "403_csrf", "404", "500"])
def test_it_renders_without_a_request(page):
    """Django shows 400 and 500 with an empty context."""
    html = render_to_string(f"{page}.html")
    assert html.count("<h1>") == 1
    assert "· Cotter</title>" in html


@pytest.mark.parametrize(("page", "reason"), [("403", "Your roles do not allow “refit”."), ("404", "No such crate.")])
def test_a_reason_written_as_a_sentence_is_shown(page, reason):
    assert reason in render_to_string(f"{page}.html", {"exception": reason})
    assert "Resolver404" not in render_to_string(f"{page}.html", {"exception": "Resolver404"})
