"""A window that was somebody's before is empty for the next: what a test leaves in it reaches no other."""

import pytest

from tests.browser.watching import PHONE, window

pytestmark = pytest.mark.needs_chromium

LEFT_BEHIND = """async () => {
    localStorage.setItem("mine", "1");
    sessionStorage.setItem("mine", "1");
    addEventListener("pagehide", () => sessionStorage.setItem("last", "1"));
    await caches.open("mine");
    const opened = indexedDB.open("mine", 1);
    await new Promise(resolve => (opened.onsuccess = resolve));
}"""
FOUND = """async () => [
    localStorage.mine, sessionStorage.mine, sessionStorage.last,
    (await caches.keys()).includes("mine"), (await indexedDB.databases()).some(one => one.name === "mine"),
    history.length, navigator.onLine, (await navigator.permissions.query({ name: "geolocation" })).state]"""


def test_nothing_is_left_in_a_window(browser, register):
    with window(browser, register.address, "pim", **PHONE) as pim:
        pim.open("/find/")
        before, page = pim.page.evaluate(FOUND), pim.page
        pim.page.evaluate(LEFT_BEHIND)
        assert pim.page.evaluate(FOUND)[:5] == ["1", "1", None, True, True]
        pim.page.context.grant_permissions(["geolocation"])
        pim.page.context.new_page().goto("about:blank")
        pim.page.context.set_offline(True)
    with window(browser, register.address, **PHONE) as next_one:
        assert next_one.page is page
        assert next_one.complaints == []
        assert (next_one.page.context.cookies(), len(next_one.page.context.pages)) == ([], 1)
        next_one.open("/sign-in/")
        assert next_one.page.evaluate(FOUND) == before
        next_one.page.evaluate("console.error('only the one who looks into it now is told')")
        assert (len(next_one.complaints), pim.complaints) == (1, [])
        next_one.complaints.clear()


def test_what_is_of_its_own_is_nobody_elses(browser, register):
    with window(browser, register.address, of_its_own=True, **PHONE) as own:
        page = own.page
        assert page.context.pages == [page]
    assert page.is_closed()
