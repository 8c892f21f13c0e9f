"""Wrong passwords wait, and never for long; right ones after the wait work."""

from datetime import timedelta

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client, override_settings
from django.utils import timezone

from core.domain.waiting import ADDRESS, CODE, NAME, NAME_AT_ADDRESS, PIN, left_s
from core.models import Attempts, Person

PASSWORD = "crate-14-rack-b"


@pytest.fixture
def ada(db):
    return Person.objects.create_user("ada", password=PASSWORD)


def sign_in(client, password, name="ada"):
    return client.post("/sign-in/", {"username": name, "password": password})


@pytest.mark.engine
def test_five_wrong_ones_are_free_and_the_sixth_waits(client, ada, monkeypatch):
    assert [sign_in(client, "wrong").status_code for _ in range(6)] == [422] * 5 + [429]
    answer = sign_in(client, PASSWORD)
    assert answer.status_code == 429
    assert "Wait 10 seconds" in answer.content.decode()
    assert sign_in(Client(REMOTE_ADDR="10.0.0.9"), PASSWORD).status_code == 302  # the person is not shut out
    for _ in range(5):
        sign_in(client, "wrong")
    real = timezone.now
    monkeypatch.setattr(timezone, "now", lambda: real() + timedelta(seconds=11))
    assert sign_in(client, PASSWORD).status_code == 302


def test_a_name_that_is_nobodys_waits_just_the_same(client, db):
    assert [sign_in(client, "wrong", "nobody").status_code for _ in range(6)] == [422] * 5 + [429]


def test_being_right_begins_the_count_anew(client, ada):
    for _ in range(4):
        sign_in(client, "wrong")
    sign_in(client, PASSWORD)
    assert not Attempts.objects.filter(key__startswith="name").exists()


@pytest.mark.parametrize("limit", [ADDRESS, CODE, NAME, NAME_AT_ADDRESS, PIN])
def test_nobody_is_shut_out_for_more_than_ten_minutes(limit):
    assert 0 < left_s(limit, 10_000, 0) <= 600


def test_a_clock_set_back_makes_no_wait_longer():
    assert left_s(PIN, 100, -3600) == 0


@override_settings(
    PASSWORD_HASHERS=[
        "django.contrib.auth.hashers.ScryptPasswordHasher",
        "django.contrib.auth.hashers.PBKDF2PasswordHasher",
    ]
)
def test_an_older_hash_still_works_and_is_made_anew(client, ada):
    Person.objects.filter(pk=ada.pk).update(password=make_password(PASSWORD, hasher="pbkdf2_sha256"))
    assert sign_in(client, PASSWORD).status_code == 302
    assert Person.objects.get(pk=ada.pk).password.startswith("scrypt$")
