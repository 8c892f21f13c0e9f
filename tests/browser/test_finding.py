"""First answers while somebody types, by keyboard at a desk and by thumb on a phone."""

import pytest
from playwright.sync_api import expect

from tests.browser.watching import DESK, PHONE, window

pytestmark = pytest.mark.needs_chromium


def test_typing_shows_answers_and_arrow_and_enter_open_one(browser, register):
    with window(browser, register.address, "nell", **DESK) as nell:
        nell.open("/")
        box = nell.page.get_by_role("combobox", name="Find anything")
        box.press_sequentially("crate 1")
        answers = nell.page.get_by_role("option")
        expect(answers.first).to_contain_text("Crate 1")
        expect(nell.page.get_by_role("status").filter(has_text="answers")).to_have_count(1)
        box.press("ArrowDown")
        expect(answers.first).to_have_attribute("aria-selected", "true")
        box.press("Enter")
        expect(nell.page.locator("h1")).to_have_text("Crate 1")


SLOW = "**/find/first?q=boiler"


def test_a_slow_answer_to_what_is_no_longer_asked_is_never_shown(browser, register):
    with window(browser, register.address, "pim", **PHONE) as pim:
        pim.open("/find/")
        pim.page.route(SLOW, lambda route: (pim.page.wait_for_timeout(1500), route.continue_()))
        box = pim.page.get_by_role("combobox")
        box.press_sequentially("boiler")
        pim.page.wait_for_timeout(300)
        box.fill("axelbox")
        expect(pim.page.locator(".first-panel")).to_contain_text("Nearest: axlebox")
        pim.page.wait_for_timeout(1700)
        expect(pim.page.locator(".first-panel")).to_contain_text("Nearest: axlebox")
        pim.fits()
        pim.page.get_by_role("option").first.tap()
        expect(pim.page.locator("h1")).to_contain_text("xlebox")
        pim.page.unroute(SLOW)


def test_after_marking_one_cleaned_one_goes_on_with_what_was_found(browser, register):
    """What ends that is in `tests/workshop/test_app_js.py`."""
    with window(browser, register.address, "pim", **PHONE) as pim:
        pim.open("/find/?need=clean")
        pim.page.locator("tbody a").first.click()
        pim.page.locator(".next a.button-first").click()
        pim.press("Hot wash")
        pim.sees("Marked cleaned.")
        pim.page.get_by_role("link", name="Go on with what was found").click()
        expect(pim.page).to_have_url(f"{register.address}/find/?need=clean")
