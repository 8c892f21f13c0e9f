"""The grid of a thickness survey under a keyboard: a reading stays in its point until somebody goes on."""

from pathlib import Path

import pytest

pytestmark = pytest.mark.needs_chromium

SCRIPT = Path("static/js/boiler-survey.js")
PAGE = """<span data-read></span><form><table data-readings><tr>{}</tr></table></form>
<div class="readings-keys" hidden><button data-mark="x">x</button><button data-mark="!">!</button>
<button data-step="-1">Back</button><button data-step="1">Next</button></div>"""


@pytest.fixture(scope="module")
def window(browser):
    page = browser.new_page()
    yield page
    page.close()


@pytest.fixture
def page(window):
    window.set_content(PAGE.format("".join(f'<td><input name="p1.{number}"></td>' for number in range(1, 6))))
    window.add_script_tag(content=SCRIPT.read_text())
    window.locator("input").first.focus()
    return window


def at_points(page):
    return page.locator("input").evaluate_all("points => points.map(point => point.value)")


def standing_at(page):
    return page.evaluate("document.activeElement.name")


@pytest.mark.parametrize("typed", ["12.45", "12.1!", "12,345", "x", "n"])
def test_what_is_typed_stays_in_its_point_and_enter_goes_to_the_next(page, typed):
    page.locator("input").nth(3).fill("11.2")  # readings there already, from which the usual figures could be guessed
    page.locator("input").nth(4).fill("11.3")
    page.locator("input").first.focus()
    page.keyboard.type(typed)
    assert (at_points(page)[:2], standing_at(page)) == ([typed, ""], "p1.1")
    page.keyboard.press("Enter")
    page.keyboard.type("12.4")
    assert (at_points(page)[:3], standing_at(page)) == ([typed, "12.4", ""], "p1.2")


def test_thin_is_put_behind_the_reading_that_one_stands_at(page):
    page.keyboard.type("9.8")
    page.get_by_text("!").click()
    page.get_by_text("Next").click()
    page.get_by_text("!").click()  # nothing is there to be called thin
    assert (at_points(page)[:2], standing_at(page)) == (["9.8!", ""], "p1.2")
