import io

import pytest
from django.contrib.auth import authenticate, get_user_model
from django.core.management import CommandError, call_command

pytestmark = pytest.mark.django_db
PASSWORD = "nine long rivets"


@pytest.fixture
def add(monkeypatch):
    def add(*words, password=PASSWORD):
        monkeypatch.setattr("sys.stdin", io.StringIO(f"{password}\n"))
        call_command("add_person", *words)

    return add


def test_the_person_signs_in_with_the_roles(add):
    add("ada", "--name", "Ada van Marsh", "--role", "works manager", "--role", "Fitter")
    person = authenticate(username="ada", password=PASSWORD)
    assert str(person) == "Ada van Marsh"
    assert person.role_names == {"works manager", "fitter"}


@pytest.mark.parametrize(
    ("words", "password", "sentence"),
    [
        (["ada"], PASSWORD, "at least one --role: volunteer"),
        (["ada", "--role", "driver"], PASSWORD, "no role 'driver'. The roles are: volunteer"),
        (["a da", "--role", "fitter"], PASSWORD, "username: Enter a valid username"),
        (["there", "--role", "fitter"], PASSWORD, "username: A user with that username already exists"),
        (["ada", "--role", "fitter"], "short", "too short"),
        (["ada", "--role", "fitter"], "", "too short"),
    ],
)
def test_what_is_wrong_is_said_and_nobody_is_added(add, words, password, sentence):
    get_user_model().objects.create_user("there")
    with pytest.raises(CommandError, match=sentence):
        add(*words, password=password)
    assert [person.username for person in get_user_model().objects.all()] == ["there"]
