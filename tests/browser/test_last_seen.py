"""Out of range where the address is trusted: pages seen last open, marked as such; never another person's."""

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, signed_in, window
from tests.cut_off.again import AT, named
from tests.cut_off.wire import State, Wire

pytestmark = pytest.mark.needs_chromium

BEGINNINGS = ("/scan/", "/put-away/", "/put-away/?another=1", "/strip/", "/strip/?loose=1", "/stock-take/", "/waiting/")
"""Open without a network after the first visit, whatever page that was."""
SEEN_BY = "caches.keys().then(names => names.filter(name => name.startsWith('seen-by-')))"


@pytest.fixture
def wire(register):
    """At 127.0.0.1, which browsers trust as they trust HTTPS."""
    there = Wire(register.address)
    yield there
    there.close()


def test_what_was_seen_opens_without_a_network_and_to_nobody_else(browser, register, wire):
    """To take in the service worker costs as much as ten pages, so what it does is looked at in one window."""
    with window(browser, named(wire, register.address, AT["https"]), service_workers="allow", **PHONE) as pim:
        signed_in(pim, "pim", anew=True)
        crate, piece = looked_about(pim)
        with wire.being(State.CUT):
            opens_as_last_seen(pim, crate)
            a_typed_tag_opens(pim, *piece)
            a_chosen_crate_takes_pieces(pim, piece[0])
            nothing_else_opens(pim)
        nobody_else_is_shown_it(pim, crate[0])
        pim.complaints.clear()  # of a network that was gone


def looked_about(pim) -> tuple[tuple[str, str], tuple[str, str]]:
    """Where a crate and a piece in it are, and what they are called."""
    pim.open("/where/")
    pim.page.evaluate("navigator.serviceWorker.ready")
    pim.waits_until("navigator.serviceWorker.controller !== null")  # it has the page in its hands
    crate = pim.page.locator("main a", has_text="Crate 13").first.get_attribute("href")
    pim.open(crate)
    expect(pim.page.locator("#as-last-seen")).to_have_count(0)
    heading = pim.page.locator("h1").inner_text()
    piece = pim.page.locator("main a[href^='/t/']").first.get_attribute("href")
    pim.open(piece)
    for beginning in BEGINNINGS:
        pim.waits_until(f"caches.match('{beginning}').then(found => Boolean(found))")
    return (crate, heading), (piece.removeprefix("/t/"), pim.page.locator("h1").inner_text())


def opens_as_last_seen(pim, crate) -> None:
    address, heading = crate
    pim.open(address)
    pim.sees("As last seen at")
    expect(pim.page.locator("h1")).to_have_text(heading)
    pim.fits()
    pim.open("/strip/?loose=1")
    pim.sees("As last seen at")


def a_typed_tag_opens(pim, code, heading) -> None:
    pim.open("/scan/")
    pim.page.locator("#code").fill(f"{code[:4]} {code[4:]}".lower().replace("0", "o"))
    pim.page.get_by_role("button", name="Open it").tap()
    pim.sees("As last seen at")
    expect(pim.page.locator("h1")).to_have_text(heading)


def a_chosen_crate_takes_pieces(pim, code) -> None:
    pim.open("/put-away/?another=1")
    pim.page.get_by_label("Or by its name").fill("Crate 13")
    pim.page.get_by_role("button", name="This one").tap()
    expect(pim.page.locator("h1")).to_have_text("Into Container 2 / Crate 13")
    pim.page.locator("#code").fill(code)
    pim.page.get_by_role("button", name="Put it in").tap()
    expect(pim.page.locator("#put-kept > li")).to_have_count(1)
    pim.fits()


def nothing_else_opens(pim) -> None:
    pim.page.goto(f"{pim.address}/l/nowhere/")
    expect(pim.page.locator("h1")).to_have_text("No network")
    pim.sees("tries again by itself")
    pim.fits()


def nobody_else_is_shown_it(pim, crate) -> None:
    """What was kept goes when the next person signs in, after whom it is kept anew."""
    pim.open("/waiting/")
    (whose,) = pim.page.evaluate(SEEN_BY)
    pim.page.locator(".who summary").click()
    pim.page.get_by_role("button", name="Sign out").click()
    expect(pim.page.get_by_label("Sign-in name")).to_be_visible()
    pim.waits_until(f"{SEEN_BY}.then(whose => !whose.length)")
    signed_in(pim, "wren")
    pim.open(crate)
    pim.waits_until(f"{SEEN_BY}.then(whose => whose.length === 1)")
    (now,) = pim.page.evaluate(SEEN_BY)
    assert now != whose
