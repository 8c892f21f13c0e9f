"""The sheet of a crack check on a phone: what was typed is there again, however the page is left and come back to."""

import pytest

from tests.browser.watching import PHONE, window

pytestmark = pytest.mark.needs_chromium

CLEANED = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    WHERE piece.state = 'cleaned' AND place.crack_check = 'magnetic particle' AND place.surfaces <> '[]'
    ORDER BY piece.id LIMIT 1"""
FILL = "Fill in as in my last check by this method"


def ready(person) -> None:
    person.waits_until("document.documentElement.dataset.drafts === 'ready'")


def to_step(person, name: str) -> None:
    person.page.locator(".step:visible").get_by_role("link", name=name, exact=True).click()


def types(person) -> None:
    """On two of the steps: a figure and a tick."""
    person.page.locator("[name=surface]").evaluate("field => { field.closest('details').open = true; }")
    person.page.fill("[name=surface]", "wire-brushed bright")
    to_step(person, "Reached")
    person.page.check("#id_reached_0")
    person.page.fill("[name=light_lux]", "640")
    person.page.wait_for_timeout(700)  # kept within half a second


def stands(person) -> list:
    names = ("surface", "light_lux", "procedure")
    return [
        person.page.locator("#id_reached_0").is_checked(),
        *(person.page.locator(f"[name={name}]").input_value() for name in names),
    ]


def test_what_was_typed_after_filling_in_is_there_after_a_reload_and_after_leaving(browser, register):
    sheet = f"/t/{register.one(CLEANED)}/crack-check"
    with window(browser, register.address, "petra", **PHONE) as petra:
        petra.open(sheet)
        ready(petra)
        petra.choose("method", "magnetic particle")
        assert petra.press(FILL) == 200
        ready(petra)
        types(petra)
        there = stands(petra)
        assert there[:3] == [True, "wire-brushed bright", "640"]
        assert there[3], "nothing was filled in"
        petra.page.reload()
        ready(petra)
        assert stands(petra) == there
        petra.page.fill("[name=light_lux]", "650")
        petra.page.wait_for_timeout(700)
        petra.open("/static/favicon.svg")
        petra.page.go_back()
        ready(petra)
        assert stands(petra) == [True, "wire-brushed bright", "650", there[3]]
