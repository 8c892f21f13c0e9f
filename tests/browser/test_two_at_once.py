"""Two people have the same form open: whoever saves second sees both values of each field side by side, chooses, and
loses nothing that either of them typed. `tests/demo/test_edit_forms.py` has every such form, without a browser."""

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, elsewhere, window

pytestmark = pytest.mark.needs_chromium

PIECE = """SELECT '/t/' || tag.code || '/describe', piece.id FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current WHERE piece.state = 'stripped' LIMIT 1"""
FORMS = {
    "a piece": (PIECE, "pim", "bram", PHONE, "parts_component", ("marks", "notes"), "Save"),  # kept by the phone
    "a drawing": (
        "SELECT '/drawings/' || id || '/edit', id FROM parts_drawing ORDER BY id LIMIT 1",
        "bram", "ines", PHONE, "parts_drawing", ("original", "note"), "Save",
    ),
}  # fmt: skip
"""Where it is, who saves first and who second, and two fields; the first saves both, the second only one of them."""


@pytest.mark.parametrize("name", FORMS)
def test_whoever_saves_second_sees_both_and_loses_nothing(browser, register, name):
    sql, first, second, look, table, (both, other), button = FORMS[name]
    address, number = register.rows(sql)[0]
    with window(browser, register.address, second, **look) as slow:
        assert slow.open(address) == 200
        for fold in slow.page.locator("main details:not([open]) > summary").all():
            fold.click()
        entered = {both: "as the first wrote it", other: "what only the first said"}
        elsewhere(register.address, first).send(address, **entered)
        slow.page.locator(f"[name={both}]").fill("as the second wrote it")
        assert slow.press(button) == 409
        slow.fits()
        side = slow.page.locator(".theirs")
        expect(side).to_have_count(1)
        expect(side).to_contain_text("By now the register says: as the first wrote it")
        expect(slow.page.locator(f"[name={both}]")).to_have_value("as the second wrote it")
        expect(slow.page.locator(f"[name={other}]")).to_have_value("what only the first said")
        slow.sees("Changed meanwhile.")
        assert saved(register, table, number, both) == "as the first wrote it"
        assert slow.press(button) == 302  # knowingly
        assert saved(register, table, number, both) == "as the second wrote it"
        assert saved(register, table, number, other) == "what only the first said"


def saved(register, table, number, field) -> str:
    return register.one(f"SELECT {field} FROM {table} WHERE id = ?", number)
