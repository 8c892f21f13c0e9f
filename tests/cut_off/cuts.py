"""The ways in which a form is cut off: what was entered is there again, and what was pressed is done once."""

import time
from contextlib import contextmanager

from playwright.sync_api import Error, expect

from tests.browser.watching import Person
from tests.cut_off.forms import Form
from tests.demo_copy import Register

WAIT_MS = 40_000
ENTERED = """button => [...button.form.elements]
    .filter(one => one.name && !["hidden", "submit", "button", "image"].includes(one.type))
    .map(one => [one.name, one.type === "file" ? one.files.length
        : ["radio", "checkbox"].includes(one.type) ? one.checked : one.value])"""


class Case:
    """One form in one person's hands, on something of its own."""

    def __init__(self, form: Form, person: Person, register: Register, address: str):
        self.form, self.person, self.register, self.address = form, person, register, address
        self.before = form.done(register, address) if form.done else 0

    def button(self, name: str = ""):
        return self.person.page.get_by_role("button", name=name or self.form.button, exact=True).last

    def entered(self) -> list:
        return self.button().evaluate(ENTERED)

    def done(self) -> int:
        return self.form.done(self.register, self.address) - self.before

    def open(self) -> None:
        self.person.page.goto(self.person.address + self.address.split("#")[0])
        self.drafts_are_there()

    def drafts_are_there(self) -> None:
        self.person.waits_until("document.documentElement.dataset.drafts === 'ready'")

    def kept(self) -> None:
        """Within a second, as promised."""
        self.person.page.wait_for_timeout(1000)

    def becomes(self, wanted: int) -> None:
        until = time.monotonic() + WAIT_MS / 1000
        while self.done() != wanted and time.monotonic() < until:
            self.person.page.wait_for_timeout(100)
        assert self.done() == wanted, f"{self.form.name}: done {self.done()} times"

    def no_draft(self) -> None:
        """Whatever is on the phone of this form is gone."""
        self.open()
        left = self.person.page.evaluate("cotter.store.drafts()")
        mine = [draft["details"] for draft in left if draft["id"].split(" ")[1] == self.address.split("#")[0]]
        assert not mine, f"{self.form.name}: still there: {mine}"


# --- while it is filled in


def reloaded(case: Case) -> None:
    case.person.page.reload()
    case.drafts_are_there()


def closed(case: Case) -> None:
    old, case.person.page = case.person.page, case.person.page.context.new_page()
    old.close()
    case.open()


def reloaded_without_a_network(case: Case) -> None:
    """Over http the browser's own error; over HTTPS the page as last seen."""
    context = case.person.page.context
    context.set_offline(True)
    try:
        case.person.page.reload()
    except Error:
        pass
    context.set_offline(False)
    case.open()


def signed_out(case: Case) -> None:
    case.person.page.context.clear_cookies()
    case.person.page.goto(case.person.address + case.address.split("#")[0])
    case.person.sign_in(case.form.who)
    case.person.page.locator("nav").first.wait_for()
    case.open()


FILLED_IN = (reloaded, closed, reloaded_without_a_network, signed_out)


# --- while it is sent


def pressed_without_a_network(case: Case) -> None:
    context = case.person.page.context
    context.set_offline(True)
    case.button().click()
    expect(case.person.page.locator(".kept-note")).to_contain_text(
        "ready to sign" if case.form.signs else "ept on this phone", timeout=WAIT_MS
    )
    assert case.done() == 0
    context.set_offline(False)
    if case.form.signs:
        go_on(case)


def closed_after_pressing(case: Case) -> None:
    pressed = case.person.page.context
    pressed.set_offline(True)
    case.button().click()
    expect(case.person.page.locator(".kept-note")).to_be_visible(timeout=WAIT_MS)
    closed_page, case.person.page = case.person.page, pressed.new_page()
    closed_page.close()
    pressed.set_offline(False)
    case.person.page.goto(case.person.address + "/")
    if case.form.signs:
        expect(case.person.page.locator("#waiting")).to_contain_text("ready to sign")
        case.open()
        go_on(case)


def answer_lost(case: Case) -> None:
    with losing(case, after=True):
        press_and_see_nothing(case)
    if case.form.signs:
        case.open()
        expect(case.person.page.locator(".kept-note")).to_contain_text("had arrived")
        case.person.page.get_by_role("link", name="See it").click()
        sign(case)


def request_lost(case: Case) -> None:
    with losing(case, after=False):
        press_and_see_nothing(case)
    if case.form.signs:
        case.open()
        go_on(case)


def press_and_see_nothing(case: Case) -> None:
    try:
        case.button().click()
        case.person.page.wait_for_timeout(1500)
    except Error:
        pass  # the browser shows its own page of an error


@contextmanager
def losing(case: Case, *, after: bool):
    """The next sending by POST, or the answer to it."""
    page, lost = case.person.page, []
    host = case.person.address.split("//")[1]

    def lose(route):
        if lost or route.request.method != "POST":
            return route.continue_()
        lost.append(route.request.url)
        if after:
            here = route.request.url.replace("shed.local", "127.0.0.1")
            route.fetch(url=here, headers=route.request.all_headers() | {"host": host}, max_redirects=0)
        return route.abort()

    page.route("**/*", lose)
    yield
    page.unroute("**/*", lose)
    assert lost


def go_on(case: Case) -> None:
    case.button().click()
    sign(case)


def sign(case: Case) -> None:
    case.button(case.form.then).wait_for()
    case.button(case.form.then).click()


PRESSED = (pressed_without_a_network, closed_after_pressing, answer_lost, request_lost)


def cuts_of(form: Form):
    """The crate in hand is forgotten with the session: what was entered for it comes back when it is chosen again."""
    filled_in = [cut for cut in FILLED_IN if form.name != "put away" or cut is not signed_out]
    return (*filled_in, *PRESSED) if form.done else filled_in


def cut_off(case: Case, cut) -> None:
    """Filled in, cut off, and gone on with to its end."""
    case.drafts_are_there()
    case.form.fill(case.person, case.address)
    entered = case.entered()
    case.kept()
    cut(case)
    if cut in FILLED_IN:
        again = case.entered()
        lost = [one for one in entered if one not in again]
        assert not lost, f"{case.form.name}: {lost} not among {again}"
        if not case.form.done:
            return
        case.button().click()
        if case.form.signs:
            sign(case)
    case.becomes(1)
    case.person.page.wait_for_timeout(300)
    assert case.done() == 1
    case.no_draft()
