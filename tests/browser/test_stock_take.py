"""A crate is counted with a phone: by a photo of a tag, by eye, and one without a signal. What comes of it is in
`tests/parts/stock_take/`."""

import pytest
from playwright.sync_api import expect

from tests.browser.test_put_away import photo_of
from tests.browser.watching import PHONE, window

pytestmark = pytest.mark.needs_chromium

IN_IT = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_location place ON place.id = piece.location_id
    WHERE place.name = ? AND piece.state <> 'withdrawn' AND piece.missed_on IS NULL ORDER BY piece.name, piece.id"""
MISSED = "SELECT count(*) FROM parts_component WHERE missed_on IS NOT NULL"
SEEN = "SELECT count(*) FROM parts_sighting"


def test_a_crate_is_counted_and_nothing_is_changed_by_it_yet(browser, register):
    codes = [code for (code,) in register.rows(IN_IT, "Crate 7")]
    seen, missed = register.one(SEEN), register.one(MISSED)
    (stray,) = [code for (code,) in register.rows(IN_IT, "Crate 9")][:1]
    with window(browser, register.address, "nell", **PHONE) as nell:
        nell.open(nell.hands().post("/stock-take/begin", into="Crate 7").address)
        nell.sees(f"0 of {len(codes)} seen")
        with nell.page.expect_navigation():
            nell.page.locator("#picture").set_input_files(photo_of(codes[0]))
        nell.sees(f"1 of {len(codes)} seen")
        nell.page.get_by_role("button", name="It is here").first.tap()
        nell.sees(f"2 of {len(codes)} seen")
        nell.page.context.set_offline(True)
        nell.page.locator("#code").fill(stray)
        nell.page.get_by_role("button", name="Seen", exact=True).tap()
        nell.sees("go on with the next one")
        nell.page.context.set_offline(False)
        nell.sees("should not be here")
        nell.fits()
        expect(nell.page.locator("#waiting")).to_be_empty()
        nell.complaints[:] = [sentence for sentence in nell.complaints if "ERR_INTERNET_DISCONNECTED" not in sentence]
    assert (register.one(SEEN), register.one(MISSED)) == (seen + 3, missed)
    assert stray not in [code for (code,) in register.rows(IN_IT, "Crate 7")]
