"""Every address against every role: who gets in is said once, by the decorator of its view, and nobody else does."""

from datetime import date
from types import SimpleNamespace

import pytest
from django.core.exceptions import PermissionDenied
from django.test import RequestFactory
from django.urls import get_resolver

from core.access import ANYONE, SIGNED_IN
from core.domain.catalogue import may
from core.roles import Role
from tests.demo_copy import LOCOMOTIVE, PASSWORD
from tests.test_architecture import routes
from tests.visitor import Visitor

ROUTES = [(str(route), view) for route, view in routes(get_resolver().url_patterns)]
FOR_STRANGERS = {
    "CARD/<str:code>", "JOIN/<str:code>", "calendar/<str:secret>.ics", "card/<str:code>", "join/", "join/<str:code>",
    "joining/", "sign-in/", "sign-out/", "sw.js", "switch/", "switch/<int:pk>", "switch/card", "waiting/",
    "waiting/no-network", "waiting/who",
}  # fmt: skip
METHODS = ("get", "post")


def arguments(route: str) -> dict:
    """Of nothing that there is: whoever may not is told so before anything is looked up."""
    kinds = {"int": 987654321, "str": "NOSUCH00", "slug": "no-such", "day": date(2026, 12, 5)}
    found = [part[1:-1].split(":") for part in route.replace(">", "> ").split() if part.startswith("<") or "<" in part]
    return {name: kinds[kind.rpartition("<")[2]] for kind, name in found}


def asked(view, route: str, method: str, *roles: Role, signed_in: bool = True):
    request = getattr(RequestFactory(), method)("/" + route)
    request.user = SimpleNamespace(is_authenticated=signed_in, is_active=True, role_names=frozenset(roles), pk=1)
    return view(request, **arguments(route))


def test_a_stranger_reaches_what_is_for_strangers_and_nothing_else():
    assert {route for route, view in ROUTES if view.may_use == ANYONE} == FOR_STRANGERS
    let_in = [
        (route, method)
        for route, view in ROUTES
        for method in METHODS
        if view.may_use != ANYONE and not is_sent_away(asked(view, route, method, signed_in=False))
    ]
    assert let_in == []


def is_sent_away(answer) -> bool:
    return answer.status_code == 405 or (answer.status_code == 302 and answer.url.startswith("/sign-in/?next="))


@pytest.mark.parametrize("role", list(Role))
def test_a_role_is_refused_wherever_none_of_its_deeds_is_asked_for(role):
    shut = [
        (route, view)
        for route, view in ROUTES
        if view.may_use not in (ANYONE, SIGNED_IN) and not any(may(frozenset([role]), deed) for deed in view.may_use)
    ]
    assert [route for route, view in shut for method in METHODS if not is_refused(view, route, method, role)] == []


def is_refused(view, route, method, role) -> bool:
    try:
        return asked(view, route, method, role).status_code == 405
    except PermissionDenied:
        return True


OWN = ("me/", "find/keep", "find/<int:pk>/delete", "show/", "sign-ins/<int:pk>/end")
"""What anybody changes of their own."""


@pytest.mark.parametrize("username", ["rolf", "pim"])
def test_what_everybody_may_read_nobody_changes_by_sending_to_it(register, username):
    """With the numbers of things that there are: a trustee and a volunteer send to every page that is open to all."""
    visitor = Visitor(register.address, follow=False).sign_in(username, PASSWORD)
    before = written(register)
    code = register.one("SELECT code FROM parts_tag WHERE component_id IS NOT NULL ORDER BY id LIMIT 1")
    photo = register.one("SELECT name FROM parts_photo ORDER BY id LIMIT 1")
    for route, view in ROUTES:
        if view.may_use != SIGNED_IN or route.startswith(OWN):
            continue
        for address in addresses(route, code, photo):
            answer = visitor.post(f"/{address}", outcome="accept", reason="mine", do="sign", q="x")
            assert answer.status < 500, (address, answer.status)
    assert written(register) == before


def addresses(route: str, code: str, photo: str) -> list[str]:
    words = {
        "<str:code>": code, "<slug:slug>": LOCOMOTIVE, "<slug:code>": "frames", "<slug:name>": photo,
        "<slug:size>": "small", "<int:pk>": "1", "<day:day>": "2026-12-05",
    }  # fmt: skip
    if "do/<slug:slug>" in route:
        return [f"t/{code}/do/{slug}" for slug in ("accept", "refit", "withdraw", "send-back", "pass")]
    for name, value in words.items():
        route = route.replace(name, value)
    return [route]


def written(register) -> list[int]:
    return [register.one(f"SELECT count(*) FROM {table}") for table in ("parts_event", "parts_photo", "core_link")]
