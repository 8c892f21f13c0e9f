"""What was said of the last act stays in view where the page begins further down, at the next row of a list."""

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, window

pytestmark = pytest.mark.needs_chromium

MISSED = "SELECT count(*) FROM parts_component WHERE missed_on IS NOT NULL"


def test_that_a_piece_is_not_there_can_be_undone_beside_the_row_that_comes_next(browser, register):
    with window(browser, register.address, "bram", **PHONE) as bram:
        bram.open(bram.hands().send("/l/embermoss-5/s/horns/kit").address)
        missed = register.one(MISSED)
        bram.page.get_by_role("button", name="Not there").nth(3).tap()
        bram.sees("is not there")
        expect(bram.page.locator("li:target")).to_be_in_viewport(ratio=1)
        expect(bram.page.locator("#messages")).to_be_in_viewport(ratio=1)
        said, row = (bram.page.locator(one).bounding_box() for one in ("#messages", "li:target"))
        assert said["y"] + said["height"] <= row["y"]  # and not over it
        expect(bram.page.locator("#messages").get_by_role("button", name="Undo")).to_be_in_viewport(ratio=1)
        bram.fits()
        assert register.one(MISSED) == missed + 1
