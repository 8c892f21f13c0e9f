"""A worn size from its limits to the concession: measured on a phone, where it is judged as it is typed."""

import re
from html import unescape

import pytest
from playwright.sync_api import expect

from tests.browser.choosing import piece_to_walk
from tests.browser.watching import PHONE, elsewhere, window

pytestmark = pytest.mark.needs_chromium

A_GAUGE = {
    "kind": "bore gauge", "unit": "in", "low": "2", "high": "3", "resolution": "0.0005", "on": "2020-03-02",
    "until": "2099-03-01", "uncertainty": "0.0005", "certificate": "C 7 (invented)",
}  # fmt: skip
LIMITS = {
    "name": "eye bore", "unit": "in", "wears": "larger", "drawing": "2 7/16 H8", "shop": "2.450", "scrapping": "2.500",
    "source": "Invented limit sheet", "source_edition": "issue 2",
}  # fmt: skip

PLACE = "SELECT place_id FROM parts_component WHERE id = (SELECT component_id FROM parts_tag WHERE code = ?)"
SIZE = "SELECT id FROM inspections_dimension WHERE name = 'eye bore' AND position_id = ?"
INSTRUMENTS = "SELECT COUNT(*) FROM inspections_instrument"
MEASURED = "SELECT size_class, outside, sentence FROM inspections_measurement WHERE dimension_id = ?"


def test_a_worn_bore_is_measured_judged_and_conceded(browser, register):
    code, _ = piece_to_walk(register)
    place, gauge = register.one(PLACE, code), f"B 9{register.one(INSTRUMENTS)}"
    office = elsewhere(register.address, "maud")
    elsewhere(register.address, "petra").send("/instruments/add", code=gauge, **A_GAUGE)
    office.send(f"/p/{place}/sizes/add", **LIMITS)
    size = register.one(SIZE, place)
    with window(browser, register.address, "petra", **PHONE) as petra:
        measured(petra, code, size, gauge)
    size_class, outside, sentence = register.rows(MEASURED, size)[0]
    assert (size_class, outside) == ("within scrapping limit", 1)
    assert sentence.startswith("eye bore 2.47 in (62.738 mm)")
    conceded(office, code)
    assert "concession" in office.get(f"/t/{code}").main


def measured(examiner, code, size, gauge):
    """The verdict stands there while it is typed, in both unit systems; the unreadable is shown back as typed."""
    page = examiner.page
    examiner.open(f"/t/{code}/measure")
    page.locator(f"#with-{size}").select_option(label=with_number(page, size, gauge))
    figure = page.locator(f"[name=size-{size}-0]")
    figure.fill("2,47")
    expect(page.locator(f"#verdict-{size}")).to_contain_text("has a comma")
    figure.fill("2.47 in")
    verdict = page.locator(f"#verdict-{size}")
    expect(verdict).to_contain_text("62.738 mm")
    expect(verdict).to_contain_text("beyond the shop limit, within the scrapping limit")
    examiner.fits()
    examiner.choose("result", "sound")
    page.get_by_role("button", name="Read it over, then sign", exact=True).click()  # it posts while one types
    page.get_by_role("button", name="Sign it", exact=True).click()
    examiner.sees("Signed: ")


def with_number(page, size, number: str) -> str:
    options = page.locator(f"#with-{size} option").all_inner_texts()
    return next(option for option in options if number in option)


def conceded(engineer, code):
    way = re.search(r'href="([^"]*/concede[^"]*)"', engineer.get(f"/t/{code}").main)[1]
    engineer.send(unescape(way), reason="Runs on the branch only, looked at each winter.", look_again="2099-01-01")
