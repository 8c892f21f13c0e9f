"""Out of range where the address is trusted: pages seen last open, marked as such; never another person's."""

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.watching import PHONE, signed_in, window
from tests.running import serving

BEGINNINGS = ("/scan/", "/put-away/", "/put-away/?another=1", "/strip/", "/strip/?loose=1", "/stock-take/", "/waiting/")
"""Open without a network after the first visit, whatever page that was."""

pytestmark = pytest.mark.needs_chromium


@pytest.fixture
def served(built_demo, tmp_path):
    """At 127.0.0.1, which browsers trust as they trust HTTPS."""
    folder = Path(shutil.copytree(built_demo, tmp_path / "copy"))
    with serving(folder, COTTER_DEMO="1") as address:
        yield address


def crates(person) -> str:
    person.open("/where/")
    return person.page.locator("main a[class^=depth]").first.get_attribute("href")


def ready(person) -> None:
    """The worker has the page in its hands."""
    person.page.evaluate("navigator.serviceWorker.ready")
    person.waits_until("navigator.serviceWorker.controller !== null")


def test_what_was_seen_opens_without_the_server_and_says_so(browser, served):
    with window(browser, served, "pim", service_workers="allow", **PHONE) as pim:
        crate = crates(pim)
        ready(pim)
        pim.open(crate)
        heading = pim.page.locator("h1").inner_text()
        expect(pim.page.locator("#as-last-seen")).to_have_count(0)
        for beginning in BEGINNINGS:
            pim.waits_until(f"caches.match('{beginning}').then(found => Boolean(found))")
        served.process.kill()
        served.process.wait()
        pim.open(crate)
        pim.sees("As last seen at")
        expect(pim.page.locator("h1")).to_have_text(heading)
        pim.fits()
        for beginning in ("/scan/", "/strip/?loose=1"):
            pim.open(beginning)
            pim.sees("As last seen at")
        pim.page.goto(f"{served}/l/nowhere/")
        expect(pim.page.locator("h1")).to_have_text("No network")
        pim.sees("tries again by itself")
        pim.fits()
        pim.complaints.clear()  # of a server that is gone


def test_without_the_server_a_typed_tag_opens_and_a_chosen_crate_takes_pieces(browser, served):
    with window(browser, served, "nell", service_workers="allow", **PHONE) as nell:
        nell.open("/where/")
        ready(nell)
        nell.open(nell.page.locator("main a", has_text="Crate 13").first.get_attribute("href"))
        piece = nell.page.locator("main a[href^='/t/']").first.get_attribute("href")
        nell.open(piece)
        heading = nell.page.locator("h1").inner_text()
        nell.waits_until("caches.match('/put-away/?another=1').then(found => Boolean(found))")
        nell.waits_until("caches.match('/stock-take/').then(found => Boolean(found))")
        served.process.kill()
        served.process.wait()
        code = piece.removeprefix("/t/")
        nell.open("/scan/")
        nell.page.locator("#code").fill(f"{code[:4]} {code[4:]}".lower().replace("0", "o"))
        nell.page.get_by_role("button", name="Open it").tap()
        nell.sees("As last seen at")
        expect(nell.page.locator("h1")).to_have_text(heading)
        nell.open("/put-away/?another=1")
        nell.page.get_by_label("Or by its name").fill("Crate 13")
        nell.page.get_by_role("button", name="This one").tap()
        expect(nell.page.locator("h1")).to_have_text("Into Container 2 / Crate 13")
        nell.page.locator("#code").fill(code)
        nell.page.get_by_role("button", name="Put it in").tap()
        expect(nell.page.locator("#put-kept > li")).to_have_count(1)
        nell.fits()
        nell.complaints.clear()  # of a server that is gone


SEEN_BY = "caches.keys().then(names => names.filter(name => name.startsWith('seen-by-')))"


def test_nobody_is_shown_what_another_person_had_seen(browser, register):
    with window(browser, register.address, service_workers="allow", **PHONE) as pim:
        signed_in(pim, "pim", anew=True)
        crate = crates(pim)
        ready(pim)
        pim.open(crate)
        pim.waits_until(f"{SEEN_BY}.then(whose => whose.length === 1)")
        (whose,) = pim.page.evaluate(SEEN_BY)
        pim.page.locator(".who summary").click()
        pim.page.get_by_role("button", name="Sign out").click()
        expect(pim.page.get_by_label("Sign-in name")).to_be_visible()
        pim.waits_until(f"{SEEN_BY}.then(whose => !whose.length)")
        pim.sign_in("wren")
        expect(pim.page.locator("nav").first).to_be_visible()
        pim.open(crate)
        pim.waits_until(f"{SEEN_BY}.then(whose => whose.length === 1)")
        (now,) = pim.page.evaluate(SEEN_BY)
        assert now != whose
