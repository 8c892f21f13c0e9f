"""Pages that are wide with tables and long forms, in the windows in which people have them open."""

import pytest

from tests.browser.watching import DESK, PHONE, window
from tests.demo_copy import LOCOMOTIVE

pytestmark = pytest.mark.needs_chromium

STEP = """
    SELECT max(step.id) FROM parts_renewalstep step JOIN parts_renewal renewal ON renewal.id = step.renewal_id
    WHERE step.ended = '' AND renewal.ended = ''"""
RENEWAL = "SELECT renewal_id FROM parts_renewalstep WHERE id = ?"
REPAIR = "SELECT max(id) FROM parts_repair WHERE ended = ''"
CLEANED = """
    SELECT max(tag.code) FROM parts_tag tag JOIN parts_component piece ON piece.id = tag.component_id
    WHERE tag.current AND piece.state = 'cleaned'"""


def test_what_the_office_reads_and_fills_in_fits_a_desk(browser, register):
    piece, step = register.one(CLEANED), register.one(STEP)
    renewal = f"/renewals/{register.one(RENEWAL, step)}/"
    pages = (
        f"/l/{LOCOMOTIVE}/money/", f"/l/{LOCOMOTIVE}/holds/", f"/l/{LOCOMOTIVE}/holds/add/pressure-vessel",
        f"/t/{piece}/decide", f"/t/{piece}/do/accept", f"/t/{piece}/do/withdraw",
        renewal, f"{renewal}new-piece", "/patterns/", "/patterns/add",
        *(f"/renewals/steps/{step}/{done}" for done in ("edit", "promise", "failed")),
        f"/repairs/{register.one(REPAIR)}/finish", f"/l/{LOCOMOTIVE}/ledger/", "/stock/", "/stock/receive",
    )  # fmt: skip
    with window(browser, register.address, "maud", **DESK) as maud:
        for page in pages:
            assert maud.open(page) == 200
            maud.fits()


def test_the_form_of_a_test_with_water_fits_a_phone(browser, register):
    with window(browser, register.address, "petra", **PHONE) as petra:
        assert petra.open(f"/t/{register.one(CLEANED)}/hydraulic-test") == 200
        petra.fits()
