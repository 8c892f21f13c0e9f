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


GO_ON = "Go on with what was found"
FOUND = "SELECT code FROM parts_tag WHERE current AND component_id IN (SELECT id FROM parts_component WHERE state = ?)"
BEFORE = """sessionStorage.setItem("goes-on", '["/find/?need=clean", "what was found"]')"""
"""As an earlier version left it in a page that stayed open: an error of the script is a complaint."""
AN_HOUR_LATER = """() => {
    const kept = JSON.parse(sessionStorage["goes-on"]);
    sessionStorage["goes-on"] = JSON.stringify({ ...kept, at: kept.at - 3600001 });
}"""


def test_after_marking_one_cleaned_one_goes_on_with_what_was_found_until_one_leaves_it(browser, register):
    with window(browser, register.address, "pim", **PHONE) as pim:
        pim.open("/where/")
        pim.page.evaluate(BEFORE)
        pim.open("/find/?need=clean")
        of_it = [link.get_attribute("href") for link in pim.page.locator("tbody a").all()]
        marked_cleaned(pim, of_it[0])
        pim.page.get_by_role("link", name=GO_ON).click()
        expect(pim.page).to_have_url(f"{register.address}/find/?need=clean")
        for number, leave in enumerate(("/", another_tag(register, of_it), ""), 1):
            pim.open(leave or of_it[number])
            if not leave:
                pim.page.evaluate(AN_HOUR_LATER)
            marked_cleaned(pim, of_it[number])
            expect(pim.page.get_by_role("link", name=GO_ON), leave or "an hour").to_have_count(0)
            pim.open("/find/?need=clean")


def marked_cleaned(pim, address: str) -> None:
    pim.sends(f"{address}/do/clean", method="hot wash")
    pim.open(address)
    pim.sees("Marked cleaned.")


def another_tag(register, of_it) -> str:
    return next(at for (code,) in register.rows(FOUND, "cleaned") if (at := f"/t/{code}") not in of_it)
