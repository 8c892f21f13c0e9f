"""Signing in and out."""

import pytest
from django.urls import reverse

from core.models import Person
from workshop.serving import demo

pytestmark = pytest.mark.django_db
SIGN_IN = "/sign-in/"


@pytest.fixture
def ada():
    return Person.objects.create_user("ada", password="crate-14-rack-b", first_name="Ada", last_name="Fernside")


def sign_in(client, password="crate-14-rack-b", **more):
    return client.post(SIGN_IN, {"username": "ada", "password": password, **more})


def test_the_page_asks_for_name_and_password(client):
    html = client.get(SIGN_IN).content.decode()
    assert 'name="username"' in html
    assert 'name="password"' in html
    assert "<title>Sign in · Cotter</title>" in html


def test_the_right_password_signs_in_and_goes_on(client, ada):
    answer = sign_in(client, next="/t/7K3M9QZ2")
    assert (answer.status_code, answer.url) == (302, "/t/7K3M9QZ2")
    assert client.session["_auth_user_id"] == str(ada.pk)


def test_the_wrong_password_is_refused_and_says_whom_to_ask(client, ada):
    answer = sign_in(client, password="guess")
    assert answer.status_code == 422
    assert "ask the works manager" in answer.content.decode()
    assert "_auth_user_id" not in client.session


def test_an_empty_form_names_both_fields(client):
    answer = client.post(SIGN_IN, {})
    assert answer.status_code == 422
    assert "Enter the name you sign in with." in answer.content.decode()
    assert "Enter your password." in answer.content.decode()


def test_a_null_byte_in_the_name_is_a_mistake_and_not_a_fault(client):
    assert client.post(SIGN_IN, {"username": "a\x00", "password": "x"}).status_code == 422


def test_somebody_who_left_no_longer_signs_in(client, ada):
    Person.objects.filter(pk=ada.pk).update(is_active=False)
    assert sign_in(client).status_code == 422


@pytest.mark.parametrize(
    "elsewhere", ["https://example.org/", "//example.org/", "/\\example.org", "javascript:alert(1)", "foo"]
)
def test_signing_in_never_leads_to_another_site(client, ada, elsewhere):
    assert sign_in(client, next=elsewhere).url == "/"


def test_who_is_signed_in_goes_straight_on(client, ada):
    client.force_login(ada)
    assert client.get(SIGN_IN, {"next": "/next/"}).url == "/next/"


def test_signing_out_is_done_by_a_button_and_not_by_a_link(client, ada):
    client.force_login(ada)
    assert client.get(reverse("sign-out")).status_code == 405
    assert client.post(reverse("sign-out")).url == SIGN_IN
    assert "_auth_user_id" not in client.session


def test_the_demo_shows_whom_one_can_be(client, settings, monkeypatch):
    monkeypatch.setattr(demo, "sign_ins", lambda: [demo.DemoSignIn("fitter", "bo", "rod-2-rod")])
    assert b"rod-2-rod" not in client.get(SIGN_IN).content
    settings.DEMO = True
    assert b"rod-2-rod" in client.get(SIGN_IN).content


def test_signing_out_clears_the_cache_and_not_what_waits(client, ada):
    """OWASP ASVS 5.0, 14.3.1; W3C Clear Site Data, 3.1: "storage" would drop what a phone has kept."""
    client.force_login(ada)
    assert client.post(reverse("sign-out")).headers["Clear-Site-Data"] == '"cache"'


def test_being_told_to_go_to_a_word_is_no_fault(client, ada):
    client.force_login(ada)
    assert client.get(SIGN_IN, {"next": "foo"}).url == "/"


def test_a_sign_in_through_a_proxy_that_hides_addresses_is_logged(client, ada, caplog):
    client.post(SIGN_IN, {"username": "ada", "password": "guess"}, headers={"X-Forwarded-Proto": "https"})
    assert "X-Forwarded-For" in caplog.text
