"""The main job as people do it: a piece from the scan of its tag to its refit, each in the shed with a phone."""

import re

import pytest
from playwright.sync_api import expect

from tests.as_shown import read, words
from tests.browser.choosing import piece_to_walk, stripped_pieces
from tests.browser.watching import DESK, PHONE, STATE, chosen, elsewhere, window
from tests.demo_copy import LOCOMOTIVE, PASSWORD
from tests.pictures import a_broken_photo, a_photo

pytestmark = pytest.mark.needs_chromium


def counts(hands, subassembly: str) -> dict[str, int]:
    """How many of its own places are refitted, ready (to go on today, or later) and blocked, as its page says."""
    page = read(hands.get(f"/l/{LOCOMOTIVE}/s/{subassembly}/").html.encode())
    refitted, today, later, blocked = (int(words(line).split()[0]) for line in page.cssselect(".next .counts")[-1][:4])
    return {"refitted": refitted, "ready": today + later, "blocked": blocked}


def test_a_scan_asks_who_it_is_and_then_shows_the_piece(browser, register):
    """As it is printed, in capitals, and as somebody types it; on a phone, and as wide as a desk."""
    code = stripped_pieces(register)[0]
    with window(browser, register.address, **PHONE) as pim:
        pim.open(f"/T/{code}")
        pim.sign_in("pim")
        expect(pim.page).to_have_url(f"{register.address}/t/{code}")
        pim.sees("What it needs next")
        pim.fits()
        pim.page.set_viewport_size(DESK["viewport"])
        pim.fits()
        pim.page.set_viewport_size(PHONE["viewport"])
        for address in (f"/t/{code}", f"/t/{code.lower()}", f"/T/{code.lower()}"):
            answer = pim.page.context.request.get(register.address + address)
            assert (answer.status, answer.url) == (200, f"{register.address}/t/{code}")


def test_a_piece_goes_from_its_tag_to_its_refit(browser, register):
    """One that was accepted, and is sent back to begin again."""
    code, subassembly = piece_to_walk(register)
    office, second = elsewhere(register.address, "maud"), elsewhere(register.address, "kofi")
    elsewhere(register.address, "bram").send(f"/t/{code}/do/send-back", to="stripped", reason="Rust (invented).")
    before = counts(office, subassembly)
    with window(browser, register.address, "wren", **PHONE) as wren:
        photographed(wren, code)
        cleaned(wren)
    with window(browser, register.address, "petra", **PHONE) as petra:
        crack_checked(petra, code)
    looked_at(second, code)
    assert register.one(STATE, code) == "crack-checked"
    not_for_who_signed(second, code)
    office.send(f"/t/{code}/do/accept", protection="greased")
    ready = counts(office, subassembly)
    assert ready == before | {"ready": before["ready"] + 1, "blocked": before["blocked"] - 1}
    with window(browser, register.address, "bram", **PHONE) as bram:
        refitted(bram, code)
    fitted = counts(office, subassembly)
    assert fitted == before | {"refitted": before["refitted"] + 1, "blocked": before["blocked"] - 1}
    assert register.one(STATE, code) == "refitted"


def photographed(volunteer, code):
    """Two at once of which one was cut short: the good one is kept, and the page says which was not."""
    page = volunteer.page
    volunteer.open(f"/t/{code}")
    fold = page.locator("details", has=page.locator("#photos"))
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    page.locator("#photos").set_input_files([chosen(a_photo("front.jpg")), chosen(a_broken_photo("cut.jpg"))])
    expect(page.locator("output.chosen")).to_contain_text("2 photos chosen")
    page.get_by_role("button", name="Save photos").click()
    volunteer.sees("1 of 2 photos has arrived. Photo cut.jpg: This picture is cut short or damaged.")
    volunteer.open(f"/t/{code}")
    picture = page.locator(".photo-large img")
    expect(picture).to_be_visible()
    assert picture.evaluate("async picture => { await picture.decode(); return picture.naturalWidth }") == 640


def cleaned(volunteer):
    """By the first button of its page, and then one tap."""
    volunteer.page.locator(".next a.button-first").click()
    volunteer.sees("How was it cleaned?")
    volunteer.fits()
    assert volunteer.press("Hot wash") == 302
    volunteer.sees("Marked cleaned.")


def crack_checked(examiner, code):
    """Nothing is chosen for the examiner that was not done: without a result it is not signed."""
    examiner.open(f"/t/{code}")
    examiner.page.locator(".next a.button-first").click()
    examiner.choose("method", "magnetic particle")
    for name in ("procedure", "technique", "equipment", "consumables"):
        examiner.page.locator(f"[name={name}]").fill("WP 1, yoke 1, ink 1 (invented)")
    goes_on(examiner, "Reached")
    for surface in examiner.page.locator("[name^=reached]").all():
        surface.check()
    examiner.page.get_by_label("two directions about 90° apart").check()
    examiner.choose("demagnetised", "yes")
    examiner.choose("viewing", "colour contrast")
    examiner.page.get_by_label("Light on the surface").fill("800")
    goes_on(examiner, "Marks")
    goes_on(examiner, "Result")
    expect(examiner.page.locator("#still-result")).to_have_text(" Before signing: result.")
    assert examiner.press("Read it over, then sign") == 422
    examiner.page.get_by_role("link", name="Result: None chosen.").click()
    examiner.choose("result", "sound")
    expect(examiner.page.locator("#still-result")).to_have_text(" Nothing is missing: sound.")
    examiner.fits()
    assert examiner.press("Read it over, then sign") == 302
    examiner.fits()
    assert examiner.press("Sign it") == 302
    examiner.sees("Signed: ")


def goes_on(examiner, step):
    """The press and what is still to say stay in sight, and each screen fits."""
    foot = examiner.page.locator(".bench-foot:visible")
    assert foot.count() == 1
    box = foot.bounding_box()
    assert box["y"] + box["height"] <= examiner.page.viewport_size["height"]
    examiner.fits()
    examiner.page.get_by_role("link", name=f"Next: {step}").click()


def looked_at(engineer, code):
    """Read over on the page that the sheet leads to, and signed there."""
    sheet = engineer.get(f"/t/{code}/examine")
    reached = re.findall(r'<input type="checkbox" name="(reached[^"]*)" value="([^"]*)"', sheet.html)
    sign = engineer.send(f"/t/{code}/examine", look="visual", result="sound", **dict(reached))
    engineer.send(sign.address)


def not_for_who_signed(engineer, code):
    page = engineer.get(f"/t/{code}/do/accept").main
    assert "You signed an examination of this safety-critical piece." in page
    assert "Accept it</button>" not in page


def refitted(fitter, code):
    """Two names, and the second one's own password."""
    page = fitter.page
    fitter.open(f"/t/{code}")
    page.locator(".next a.button-first").click()
    page.get_by_label("Checker", exact=True).select_option(label="Oskar Lindenfold")
    page.get_by_label("The checker's own password").fill(PASSWORD)
    fitter.fits()
    assert fitter.press("Refit it") == 302
    fitter.sees("Refitted.")


def test_with_scripts_off_the_same_form_works(browser, register):
    with window(browser, register.address, "pim", of_its_own=True, java_script_enabled=False, **PHONE) as pim:
        code = stripped_pieces(register)[0]
        pim.open(f"/t/{code}/do/clean")
        assert pim.press("Hot wash") == 302
        pim.sees("Marked cleaned.")
    assert register.one(STATE, code) == "cleaned"
