"""A worn size from the setting of its limits to the concession, as people do it: each in their own browser."""

import pytest
from playwright.sync_api import expect

from tests.browser.choosing import piece_to_walk
from tests.browser.watching import everybodys_windows

pytestmark = pytest.mark.needs_chromium

PLACE = "SELECT place_id FROM parts_component WHERE id = (SELECT component_id FROM parts_tag WHERE code = ?)"
SIZE = "SELECT id FROM inspections_dimension WHERE name = 'eye bore' AND position_id = ?"
INSTRUMENTS = "SELECT COUNT(*) FROM inspections_instrument"
MEASURED = "SELECT size_class, outside, sentence FROM inspections_measurement WHERE dimension_id = ?"


@pytest.fixture
def people(browser, register):
    yield from everybodys_windows(browser, register)


def test_a_worn_bore_is_measured_judged_and_conceded(register, people):
    code, _ = piece_to_walk(register, "accepted")
    place, gauge = register.one(PLACE, code), f"B 9{register.one(INSTRUMENTS)}"
    an_instrument(people("petra"), gauge)
    limits_set(people("maud"), place)
    size = register.one(SIZE, place)
    measured(people("petra"), code, size, gauge)
    size_class, outside, sentence = register.rows(MEASURED, size)[0]
    assert (size_class, outside) == ("within scrapping limit", 1)
    assert sentence.startswith("eye bore 2.47 in (62.738 mm)")
    conceded(people("maud"), code)
    printed(people("maud"))


def an_instrument(examiner, gauge):
    page = examiner.page
    examiner.open("/instruments/add")
    page.get_by_label("Number on the instrument").fill(gauge)
    page.get_by_label("What it is").fill("bore gauge")
    examiner.choose("unit", "in")
    page.get_by_label("Measures from").fill("2")
    page.get_by_label("Measures to").fill("3")
    page.get_by_label("Resolution").fill("0.0005")
    page.get_by_label("Calibrated on").fill("2020-03-02")
    page.get_by_label("Good until").fill("2099-03-01")
    page.get_by_label("Expanded uncertainty").fill("0.0005")
    page.get_by_label("Certificate").fill("C 7 (invented)")
    examiner.fits()
    page.locator("main form .button-main, main form .button-first").last.click()
    examiner.sees(gauge)


def limits_set(engineer, place):
    """Without a source there is no limit; what was typed is still there when it is refused."""
    page = engineer.page
    engineer.open(f"/p/{place}/sizes/add")
    page.locator("[name=name]").fill("eye bore")
    engineer.choose("unit", "in")
    engineer.choose("wears", "larger")
    page.locator("[name=drawing]").fill("2 7/16 H8")
    page.locator("[name=shop]").fill("2.450")
    page.locator("[name=scrapping]").fill("2.500")
    engineer.fits()
    send = page.locator("main form .button-main, main form .button-first").last
    with page.expect_navigation():
        send.click()
    engineer.sees("Where the limits come from")
    expect(page.locator("[name=drawing]")).to_have_value("2 7/16 H8")
    page.locator("[name=source]").fill("Invented limit sheet")
    page.locator("[name=source_edition]").fill("issue 2")
    send.click()
    engineer.sees("eye bore")


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
    page = engineer.page
    engineer.open(f"/t/{code}")
    page.locator("a[href*='/concede']").first.click()
    page.get_by_label("Reason").fill("Runs on the branch only, looked at each winter.")
    page.locator("[name=look_again]").fill("2099-01-01")
    engineer.fits()
    with page.expect_navigation():
        page.locator("main form .button-main, main form .button-first").last.click()
    engineer.open(f"/t/{code}")
    engineer.sees("concession")


def printed(engineer):
    """The report of the last record is a PDF."""
    page = engineer.page
    page.locator("a[href^='/examinations/']").first.click()
    address = page.locator("a[href$='report.pdf']").first.get_attribute("href")
    report = page.request.get(engineer.address + address)
    assert (report.status, report.body()[:5]) == (200, b"%PDF-")
