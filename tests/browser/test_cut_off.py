"""Forms of the shed cut off from the network in a browser: nothing entered is lost, nothing is done twice. Each way of
it once, of those pressed with forms that are kept and with three that are signed; each kind of field once. What holds
for every form is in `tests/workshop/outbox/test_shed_forms.py`; `python -m tests.cut_off --times 20` cuts each off in
every way."""

import pytest

from tests.cut_off.again import AT, Windows, named
from tests.cut_off.cuts import (
    Case,
    answer_lost,
    closed,
    closed_after_pressing,
    cut_off,
    pressed_without_a_network,
    reloaded,
    reloaded_without_a_network,
    request_lost,
    signed_out,
)
from tests.cut_off.forms import FORMS
from tests.cut_off.scene import Scene
from tests.cut_off.wire import Wire

pytestmark = pytest.mark.needs_chromium

TRIED = {
    "strip": (signed_out, closed_after_pressing),  # a photo that belongs to the rest
    "put away": (reloaded_without_a_network, request_lost),  # piece after piece
    "survey": (pressed_without_a_network,),  # a grid
    "stay map": (closed,),  # lists to choose from
    "measure": (pressed_without_a_network,),  # size by size, judged meanwhile; signed
    "box up": (request_lost,),  # with a checker, who proves it again; signed
    "crack check": (reloaded, answer_lost),  # steps, and marks on a photo; signed on the page that follows
}
AT_ITS_END = {"crack check": 3}
"""A form in steps is cut off once all of it is there."""
OVER_HTTPS = ("petra",)
"""As far as it matters to a browser, which then keeps pages as last seen. Everybody else is where it is not trusted."""


@pytest.fixture(scope="module")
def scene(register):
    return Scene(register)


@pytest.fixture(scope="module")
def wire(register):
    there = Wire(register.address)
    yield there
    there.close()


@pytest.fixture(scope="module")
def windows(browser):
    there = Windows(browser)
    yield there
    there.close_all()


@pytest.mark.parametrize("name", TRIED)
def test_it_is_put_back_and_done_once(windows, register, wire, scene, name):
    (form,) = (one for one in FORMS if one.name == name)
    at = AT["https" if form.who in OVER_HTTPS else "http"]
    person = windows.of(named(wire, register.address, at), form.who)
    case = Case(form, person, wire, register, form.begin(scene, person.hands()))
    cut_off(case, TRIED[name], AT_ITS_END.get(name, 0))
