"""Three pieces the whole way back, as people take them: the shed on a phone, the office at a desk."""

from contextlib import ExitStack

import pytest

from tests.browser import way_of_the_bunker, way_of_the_cylinder, way_of_the_firebox
from tests.browser.watching import DESK, PHONE, window
from tests.browser.ways_walked import Works
from tests.running import manage, serving

pytestmark = pytest.mark.needs_chromium

AT_A_DESK = ("engineer", "manager", "trustee")
SCENERY = "from tests.browser.ways_scenery import build; build()"


@pytest.fixture(scope="module")
def works(tmp_path_factory):
    folder = tmp_path_factory.mktemp("three-ways")
    for words in (["migrate"], ["shell", "-c", SCENERY]):
        done = manage(folder, *words)
        assert not done.returncode, done.stderr
    with serving(folder) as address:
        yield Works(address, folder)


@pytest.fixture
def people(browser, works):
    """Everybody's own window, opened when first asked for: people("engineer")."""
    with ExitStack() as windows:
        there = {}

        def named(name: str):
            if name not in there:
                look = DESK if name in AT_A_DESK else PHONE
                there[name] = windows.enter_context(window(browser, works.address, name, **look))
            return there[name]

        yield named


def test_a_cracked_cylinder_is_renewed_from_an_old_pattern(works, people):
    way_of_the_cylinder.walk(works, people)


def test_a_wasted_bunker_side_is_mended_with_new_plate_and_examined_anew(works, people):
    way_of_the_bunker.walk(works, people)


def test_an_inner_firebox_is_condemned_designed_held_made_tested_and_fitted(works, people):
    way_of_the_firebox.walk(works, people)
