"""Each form of the shed cut off from the network once, in one way or another: nothing entered is lost, nothing is done
twice. `python -m tests.cut_off --times 20` cuts each off in every way."""

from itertools import cycle

import pytest

from tests.cut_off.again import AT, Windows, named
from tests.cut_off.cuts import FILLED_IN, PRESSED, Case, cut_off
from tests.cut_off.forms import FORMS
from tests.cut_off.scene import Scene
from tests.cut_off.wire import Wire

pytestmark = pytest.mark.needs_chromium

CUTS = cycle((*PRESSED, *FILLED_IN))
ONCE = [(form, cut, at) for form, cut, at in zip(FORMS, CUTS, cycle(AT.values()))]


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


@pytest.mark.parametrize(("form", "cut", "at"), ONCE, ids=[f"{form.name}, {cut.__name__}" for form, cut, _ in ONCE])
def test_it_is_put_back_and_done_once(windows, register, wire, scene, form, cut, at):
    person = windows.of(named(wire, register.address, at), form.who)
    cut_off(Case(form, person, wire, register, form.begin(scene, person)), (cut,))
