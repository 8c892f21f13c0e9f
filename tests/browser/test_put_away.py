"""A crate is filled with a phone in a gloved hand: by photos of tags, a wrong one taken back, and with the signal gone
half-way; nothing is lost, and nothing is put anywhere twice."""

from contextlib import contextmanager

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, chosen, signed_in, window
from tests.tags_seen import a_tag, photographed, sent

pytestmark = pytest.mark.needs_chromium

LOOSE = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_location place ON place.id = piece.location_id
    WHERE piece.state = 'cleaned' AND piece.fitted_id IS NULL AND place.name <> 'Crate 14' ORDER BY piece.id LIMIT 6"""
LIES = """
    SELECT place.name FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id
    JOIN parts_location place ON place.id = piece.location_id WHERE tag.code = ?"""
MOVES = """
    SELECT count(*) FROM parts_movement WHERE component_id = (SELECT component_id FROM parts_tag WHERE code = ?)"""


@contextmanager
def filling(browser, register, **how):
    """Signed in anew each time: which crate is being filled belongs to the session."""
    with window(browser, register.address, **how, **PHONE) as person:
        signed_in(person, "pim", anew=True)
        person.sends("/put-away/", to="/put-away/", into="Crate 14")
        yield person


@pytest.fixture
def pim(browser, register):
    with filling(browser, register) as person:
        yield person


def photo_of(code: str) -> dict:
    return chosen(sent(photographed(a_tag(code), turned=12)))


def shoot(person, code: str) -> None:
    person.page.evaluate("window.thePageBefore = true")  # a new address of the same page is no new page yet
    person.page.locator("#picture").set_input_files(photo_of(code))
    person.waits_until("!window.thePageBefore")
    person.page.wait_for_load_state()


def so_far(person, words: str) -> None:
    expect(person.page.locator("#so-far")).to_have_text(words, timeout=15_000)


def test_photos_fill_the_crate_and_a_wrong_one_goes_back(register, pim):
    codes = [code for (code,) in register.rows(LOOSE)][:2]
    pim.open("/put-away/")
    lay = register.one(LIES, codes[0])
    pim.sees("Into Crate 14")
    so_far(pim, "Nothing put in yet")
    for code in codes:
        shoot(pim, code)
    so_far(pim, "2 pieces so far")
    pim.fits()
    row = pim.page.locator("li.put", has_text=f"{codes[0][:4]} {codes[0][4:]}")
    row.get_by_role("button").tap()
    so_far(pim, "1 piece so far")
    assert [register.one(LIES, code) for code in codes] == [lay, "Crate 14"]


CAMERA = """
    navigator.mediaDevices.getUserMedia = async () => {
      const canvas = document.createElement("canvas");
      setInterval(() => canvas.getContext("2d").fillRect(0, 0, 9, 9), 50);
      return canvas.captureStream();
    };
    window.BarcodeDetector = class {
      looks = 0;
      async detect() { return (this.looks += 1) < 3 ? [] : [{ rawValue: "HTTP://ANY.NAME/T/%s" }]; }
    };"""
"""A camera before which a tag comes in sight at the third look: no headless browser has one, nor reads patterns."""


def test_where_the_browser_can_the_page_looks_through_the_camera(browser, register):
    code = register.rows(LOOSE)[3][0]
    with filling(browser, register, of_its_own=True) as pim:
        pim.open("/scan/")
        expect(pim.page.locator("#live")).to_be_hidden()  # this browser cannot
        pim.page.add_init_script(CAMERA % code)
        pim.page.reload()
        pim.page.get_by_role("button", name="Look through the camera").tap()
        pim.page.wait_for_url(f"**/t/{code}")
        expect(pim.page.get_by_role("button", name="Put into Crate 14")).to_be_visible()


def test_without_a_signal_each_is_kept_and_put_there_once(register, pim):
    typed, shot = [code for (code,) in register.rows(LOOSE)][-2:]
    before = [register.one(MOVES, code) for code in (typed, shot)]
    pim.open("/put-away/")
    pim.page.context.set_offline(True)
    pim.page.locator("#code").fill(typed)
    pim.page.get_by_role("button", name="Put it in").tap()
    expect(pim.page.locator("#put-kept > li")).to_have_count(1)
    pim.page.locator("#picture").set_input_files(photo_of(shot))
    expect(pim.page.locator("#put-kept > li")).to_have_count(2)
    pim.sees("go on with the next one")
    pim.fits()
    pim.page.context.set_offline(False)
    so_far(pim, "2 pieces so far")
    expect(pim.page.locator("#waiting")).to_be_empty()
    assert [register.one(LIES, code) for code in (typed, shot)] == ["Crate 14", "Crate 14"]
    assert [register.one(MOVES, code) for code in (typed, shot)] == [count + 1 for count in before]
    pim.complaints[:] = [sentence for sentence in pim.complaints if "ERR_INTERNET_DISCONNECTED" not in sentence]
