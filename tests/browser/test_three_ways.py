"""Three pieces the whole way back, as people take them: the shed on a phone, the office at a desk."""

import pytest

from tests.browser import way_of_the_bunker, way_of_the_cylinder, way_of_the_firebox
from tests.browser.watching import everybodys_windows
from tests.browser.ways_walked import Works
from tests.running import manage, serving
from tests.template_database import new_register

pytestmark = pytest.mark.needs_chromium

SCENERY = "from tests.browser.ways_scenery import build; build()"


@pytest.fixture(scope="module")
def works(tmp_path_factory):
    folder = new_register(tmp_path_factory.mktemp("three-ways"))
    done = manage(folder, "shell", "-c", SCENERY)
    assert not done.returncode, done.stderr
    with serving(folder) as address:
        yield Works(address, folder)


@pytest.fixture
def people(browser, works):
    yield from everybodys_windows(browser, works)


def test_a_cracked_cylinder_is_renewed_from_an_old_pattern(works, people):
    way_of_the_cylinder.walk(works, people)


def test_a_wasted_bunker_side_is_mended_with_new_plate_and_examined_anew(works, people):
    way_of_the_bunker.walk(works, people)


def test_an_inner_firebox_is_condemned_designed_held_made_tested_and_fitted(works, people):
    way_of_the_firebox.walk(works, people)
