"""Two people have the same form open: whoever saves second sees both values of each field side by side, chooses, and
loses nothing that either of them typed. `tests/demo/test_edit_forms.py` has every such form, without a browser."""

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, elsewhere, window

pytestmark = pytest.mark.needs_chromium

PIECE = """SELECT '/t/' || tag.code || '/describe', piece.id FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current WHERE piece.state = 'stripped' LIMIT 1"""


def test_whoever_saves_second_sees_both_and_loses_nothing(browser, register):
    """In a form that is kept by the phone."""
    ((address, number),) = register.rows(PIECE)
    with window(browser, register.address, "bram", **PHONE) as slow:
        assert slow.open(address) == 200
        for fold in slow.page.locator("main details:not([open]) > summary").all():
            fold.click()
        elsewhere(register.address, "pim").send(
            address, marks="as the first wrote it", notes="what only the first said"
        )
        slow.page.locator("[name=marks]").fill("as the second wrote it")
        assert slow.press("Save") == 409
        slow.fits()
        side = slow.page.locator(".theirs")
        expect(side).to_have_count(1)
        expect(side).to_contain_text("By now the register says: as the first wrote it")
        expect(slow.page.locator("[name=marks]")).to_have_value("as the second wrote it")
        expect(slow.page.locator("[name=notes]")).to_have_value("what only the first said")
        slow.sees("Changed meanwhile.")
        assert saved(register, number) == [("as the first wrote it", "what only the first said")]
        assert slow.press("Save") == 302  # knowingly
        assert saved(register, number) == [("as the second wrote it", "what only the first said")]


def saved(register, number) -> list[tuple[str, str]]:
    return register.rows("SELECT marks, notes FROM parts_component WHERE id = ?", number)
