"""A browser in somebody's hands, which notes everything that the console complains of."""

import re
from contextlib import contextmanager, suppress

from playwright.sync_api import Browser, Error, Page, expect

from tests.as_shown import sent_back
from tests.demo_copy import PASSWORD
from tests.hands import Hands, with_cookies
from tests.running import Address
from tests.visitor import Visitor

STATE = "SELECT state FROM parts_component WHERE id = (SELECT component_id FROM parts_tag WHERE code = ?)"
"""Of the piece with this tag."""
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
DESK = {"viewport": {"width": 1280, "height": 900}}


class Person:
    """One person's browser window at one address; `complaints` are what no page may give rise to."""

    def __init__(self, page: Page, address: Address):
        self.page, self.address, self.complaints = page, address, []
        page.on("console", self._console)
        page.on("pageerror", self._error)

    def looks_away(self) -> None:
        self.page.remove_listener("console", self._console)
        self.page.remove_listener("pageerror", self._error)

    def _error(self, error) -> None:
        self.complaints.append(str(error))

    def _console(self, message) -> None:
        # What is refused with 4xx, as it should be, is noted by the browser as a failure to load.
        failed = message.text.startswith("Failed to load resource")
        as_it_should = any(f"status of {status}" in message.text for status in (409, 422))
        refused = failed and (as_it_should or message.location["url"] == self.page.url)
        left = message.text.startswith(("htmx:sendAbort", "htmx:afterRequest"))  # the page went before its answer came
        of_picture = message.location["url"].endswith("/favicon.ico")  # which pages name by another name
        not_allowed = message.text.startswith("Service Worker registration blocked by Playwright")
        if message.type in ("error", "warning") and not (refused or left or of_picture or not_allowed):
            self.complaints.append(f"{message.text} ({message.location['url']} on {self.page.url})")

    def open(self, path: str) -> int:
        """Go there; gives the status of the answer."""
        return self.page.goto(self.address + path).status

    def sign_in(self, username: str) -> None:
        """On the form that is shown, wherever it leads afterwards."""
        self.page.get_by_label("Sign-in name").fill(username)
        self.page.get_by_label("Password", exact=True).fill(PASSWORD)
        self.page.get_by_role("button", name="Sign in", exact=True).click()

    def press(self, name: str) -> int:
        """Send the form by this button; gives the status that a plain form is answered with.

        A form that the phone keeps (static/js/kept-forms.js) is sent by its script, which then goes where a plain form
        would have led, or tells in the form why it was refused.
        """
        self.page.evaluate("window.thePageBefore = true")
        with self.page.expect_response(lambda answer: _is_pressed(answer.request)) as sent:
            self.page.get_by_role("button", name=name, exact=True).last.click()  # a long form has it at its head too
        answer = sent.value
        kept = "x-cotter-key" in answer.request.headers
        if kept and answer.status >= 400:
            expect(self.page.locator("#errors")).to_be_visible()
            return answer.status
        self.waits_until("!window.thePageBefore")
        self.page.wait_for_load_state()
        return 302 if kept else answer.status

    def waits_until(self, so: str) -> None:
        """Asked from outside again and again: a wait inside the page is an eval, which its own policy refuses."""
        for _ in range(200):
            with suppress(Error):  # just then one page takes the place of the other
                if self.page.evaluate(so):
                    return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"not so within ten seconds: {so} ({self.page.url})")

    def hands(self) -> Hands:
        """In the session of this window, without a page of it."""
        cookies = self.page.context.cookies
        return with_cookies(self.address, lambda: {one["name"]: one["value"] for one in cookies(self.address)})

    def sends(self, address: str, *, to: str = "", **entered) -> None:
        """The form of a page, without opening it. The window keeps what it is told; the page that follows is not asked
        for, so that the next one says what was done."""
        ask = self.page.context.request
        page = ask.get(self.address + address).text()
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page)[1]
        form = {name: values[0] for name, values in sent_back(page, to).items()} | entered
        answer = ask.post(self.address + (to or address), form=form | {"csrfmiddlewaretoken": token}, max_redirects=0)
        assert answer.status == 302

    def choose(self, field: str, value: str) -> None:
        self.page.locator(f'input[name="{field}"][value="{value}"]').check()

    def sees(self, text: str) -> None:
        expect(self.page.locator("main")).to_contain_text(text)

    def fits(self) -> None:
        """Nothing sticks out sideways."""
        widths = self.page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
        assert widths[0] <= widths[1], f"{self.page.url} is {widths[0]} wide in a window of {widths[1]}"


def _is_pressed(request) -> bool:
    """And not what waited on the phone, nor what the page asks while somebody types, which it may send at any time."""
    waited = "x-cotter-key" in request.headers and "x-cotter-now" not in request.headers
    return request.method == "POST" and not waited and "hx-request" not in request.headers


def chosen(file) -> dict:
    """A file as somebody chooses it on the phone."""
    return {"name": file.name, "mimeType": file.content_type, "buffer": file.read()}


COOKIES: dict[tuple[int, str], list[dict]] = {}
"""Of whoever signed in once, at each server."""


def cookies_of(address: Address, username: str) -> list[dict]:
    whose = (address.process.pid, username)
    if whose not in COOKIES:
        COOKIES[whose] = new_cookies(address, username)
    return COOKIES[whose]


def new_cookies(address: Address, username: str) -> list[dict]:
    there = Visitor("http://127.0.0.1:" + address.rpartition(":")[2]).sign_in(username, PASSWORD)
    return [{"name": one.name, "value": one.value, "expires": one.expires or -1} for one in there.cookies]


def signed_in(person: Person, username: str, *, anew: bool = False) -> None:
    """As on another day: the form for it has tests of its own. A test that signs out, or lets somebody else sign in
    there, signs in anew, since that ends the session."""
    cookies = (new_cookies if anew else cookies_of)(person.address, username)
    person.page.context.add_cookies([one | {"url": str(person.address)} for one in cookies])


def elsewhere(address: Address, username: str) -> Hands:
    """Somebody else at work, whose window is not what a test is about."""
    return with_cookies(address, lambda: {one["name"]: one["value"] for one in cookies_of(address, username)})


KEPT_OF_A_SITE = "local_storage,indexeddb,cache_storage,file_systems,storage_buckets"
"""Beside cookies, and the cache of what was loaded, which stays."""
PICTURE = "/static/favicon.svg"
FREE: dict[tuple, list[Page]] = {}
"""Windows that nobody looks into just now. One that was open costs half of a new one, with three pages in it."""


@contextmanager
def window(
    browser: Browser, address: Address, username: str = "", *, of_its_own=False, service_workers="block", **look
):
    """A window, signed in if a name is given; at the end nothing may have complained. It is empty, but may have been
    somebody else's: a test that adds scripts, routes or listeners to it says `of_its_own`. To take in the service
    worker and what it keeps costs as much as ten pages, so only a test that is about it allows it."""
    kind = (id(browser), repr(look))
    shared = service_workers == "block" and not of_its_own
    if shared and FREE.get(kind):
        page = FREE[kind].pop()
    else:
        page = browser.new_context(locale="en-GB", service_workers=service_workers, **look).new_page()
    person = Person(page, address)
    try:
        page.context.set_default_timeout(10_000)
        if username:
            signed_in(person, username)
        yield person
        assert not person.complaints, person.complaints
        if shared:
            emptied(person)
            FREE.setdefault(kind, []).append(page)
    finally:
        if page not in FREE.get(kind, ()):
            page.context.close()


def emptied(person: Person) -> None:
    """Nothing is left of whoever looked into it. It is cleared at a picture of the same address, where no script
    is: what they left behind as they went is there by then."""
    page, context = person.page, person.page.context
    person.looks_away()
    for other in context.pages:
        if other != page:
            other.close()
    context.set_offline(False)
    page.goto(person.address + PICTURE)
    page.evaluate("sessionStorage.clear()")
    at = context.new_cdp_session(page)
    at.send("Storage.clearDataForOrigin", {"origin": str(person.address), "storageTypes": KEPT_OF_A_SITE})
    at.send("Page.resetNavigationHistory")
    at.detach()
    context.clear_cookies()
    context.clear_permissions()
