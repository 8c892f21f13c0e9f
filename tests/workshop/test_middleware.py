import errno
import socket

import pytest
from django.contrib.auth.models import AnonymousUser
from django.db import OperationalError
from django.http import HttpResponse
from django.test import RequestFactory

from workshop.middleware import (
    answer_to_own_names_only,
    is_own_name,
    own_up_to_trouble_with_the_disk,
    trouble_with_the_disk,
)

OURS = [
    "localhost",
    "127.0.0.1",
    "192.168.1.20",
    "10.1.2.3",
    "::1",
    "fd00::2",
    "shed.local",
    "SHED.LOCAL",
    "shed.local.",
]
OTHERS = ["", "example.org", "localhost.example.org", "192.168.1.20.example.org", "local", "shedlocal", "1.2.3"]


@pytest.mark.parametrize("name", OURS)
def test_names_that_only_the_local_network_can_give_are_ours(name):
    assert is_own_name(name)


@pytest.mark.parametrize("name", OTHERS)
def test_names_that_anybody_on_the_internet_can_give_are_not(name):
    assert not is_own_name(name)


def test_this_machines_own_name_is_ours():
    assert is_own_name(socket.gethostname())


def test_a_name_in_the_setting_is_ours(settings):
    assert not is_own_name("cotter.example.org")
    settings.HOSTS = ["cotter.example.org"]
    assert is_own_name("Cotter.Example.Org")
    assert not is_own_name("other.example.org")


@pytest.mark.parametrize(
    ("host", "status"),
    [("192.168.1.20:8000", 200), ("[fd00::2]:8000", 200), ("evil.example:8000", 400), ("evil example", 400), ("", 400)],
)
def test_a_request_sent_to_another_name_is_refused(host, status, settings):
    settings.ALLOWED_HOSTS = ["*"]
    answer = answer_to_own_names_only(lambda request: HttpResponse("in"))
    response = answer(RequestFactory().get("/", headers={"host": host}))
    assert response.status_code == status
    if status == 400:
        assert b"COTTER_HOSTS" in response.content
        assert host.encode() not in response.content or not host


@pytest.mark.parametrize(
    ("exception", "sentence"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "full"),
        (OSError(errno.EIO, "Input/output error"), "does not write"),
        (OperationalError("database or disk is full"), "full"),
        (OperationalError("database is locked"), "wait too long"),
        (OperationalError("deadlock detected"), "wait too long"),
        (OperationalError("attempt to write a readonly database"), "cannot write"),
    ],
)
def test_trouble_with_the_disk_is_told_in_words(exception, sentence):
    assert sentence in trouble_with_the_disk(exception)


def test_the_page_that_tells_it_says_that_nothing_was_kept():
    request = RequestFactory().post("/somewhere/")
    request.user = AnonymousUser()
    middleware = own_up_to_trouble_with_the_disk(lambda request: HttpResponse())
    page = middleware.process_exception(request, OperationalError("database is locked"))
    assert page.status_code == 503
    assert "Nothing of what you sent was kept" in page.content.decode()
    assert middleware.process_exception(request, ValueError()) is None


@pytest.mark.parametrize(
    "exception", [OperationalError("no such table: x"), OSError(errno.ENOENT, "x"), ValueError("full")]
)
def test_a_mistake_of_ours_is_not_blamed_on_the_disk(exception):
    assert trouble_with_the_disk(exception) == ""
