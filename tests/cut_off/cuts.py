"""The ways in which a form is cut off: what was entered is there again, and what was pressed is done once."""

import time
from contextlib import suppress

from playwright.sync_api import Error, expect

from tests.browser.watching import Person
from tests.cut_off.forms import Form
from tests.cut_off.wire import State, Wire
from tests.demo_copy import Register

WAIT_MS = 40_000
ENTERED = """button => [...button.form.elements]
    .filter(one => one.name && !["hidden", "submit", "button", "image"].includes(one.type))
    .filter(one => !one.matches(".input-secret"))
    .map(one => [one.name, one.type === "file" ? one.files.length
        : ["radio", "checkbox"].includes(one.type) ? one.checked : one.value])"""

LEFT = """async address => [
    (await cotter.store.drafts()).filter(one => one.id.split(" ")[1] === address).map(one => one.details),
    (await cotter.store.all()).map(one => [one.action, one.state, one.told])]"""


class Case:
    """One form in one person's hands, on something of its own."""

    def __init__(self, form: Form, person: Person, wire: Wire, register: Register, address: str):
        self.form, self.person, self.wire, self.register, self.address = form, person, wire, register, address
        self.before = form.done(register, address)

    def button(self, *, hidden: bool = False):
        """Of a form in steps it is hidden on all but the last."""
        if "button[" in self.form.button:
            return self.person.page.locator(f"#{self.address.split('#')[1]} {self.form.button}")
        page = self.person.page
        return page.get_by_role("button", name=self.form.button, exact=True, include_hidden=hidden).last

    def entered(self) -> list:
        return self.button(hidden=True).evaluate(ENTERED)

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
        if self.done() != wanted:
            left = self.person.page.evaluate(LEFT, self.address.split("#")[0])
            raise AssertionError(f"{self.form.name}: done {self.done()} times; on the phone {left}")

    def nothing_is_left(self) -> None:
        """On the phone of this form: no draft of it, and nothing that waits to be sent once more. What is still there
        goes when the form is opened again."""
        until, opens_at, left = time.monotonic() + WAIT_MS / 1000, time.monotonic() + 2, None
        while left != [[], []]:
            assert time.monotonic() < until, f"{self.form.name}: still there: {left}"
            with suppress(Error):  # the page went on by itself to what has become true
                if opens_at and time.monotonic() > opens_at:
                    self.open()
                    opens_at = 0
                left = self.person.page.evaluate(LEFT, self.address.split("#")[0])
            self.person.page.wait_for_timeout(100)


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
    with case.wire.being(State.CUT):
        with suppress(Error):
            case.person.page.reload()
        case.person.page.wait_for_timeout(500)  # until the page of the error is there
    case.open()


def signed_out(case: Case) -> None:
    case.person.page.context.clear_cookies()
    case.person.page.goto(case.person.address + case.address.split("#")[0])
    case.person.sign_in(case.form.who)
    case.person.page.locator("nav").first.wait_for(state="attached")  # a page with its foot at hand hides it
    case.open()


FILLED_IN = (reloaded, closed, reloaded_without_a_network, signed_out)


# --- while it is sent


def pressed_without_a_network(case: Case) -> None:
    with case.wire.being(State.CUT):
        press_and_keep(case)
        assert case.done() == 0
    if case.form.signs:
        go_on(case)


def closed_after_pressing(case: Case) -> None:
    context = case.person.page.context
    with case.wire.being(State.CUT):
        press_and_keep(case)
        closed_page, case.person.page = case.person.page, context.new_page()
        closed_page.close()
    case.person.page.goto(case.person.address + "/")
    if case.form.signs:
        expect(case.person.page.locator("#waiting")).to_contain_text("ready to sign")
        case.open()
        go_on(case)


def press_and_keep(case: Case) -> None:
    """Until the page says so: it may have said before that what was entered is put back."""
    case.button().click()
    kept = "ready to sign" if case.form.signs else "ept on this phone"
    expect(case.person.page.locator(".kept-note")).to_contain_text(kept, timeout=WAIT_MS)


def answer_lost(case: Case) -> None:
    press_and_lose(case, State.LOSES_THE_ANSWER)
    if case.form.signs:
        case.open()
        expect(case.person.page.locator(".kept-note")).to_contain_text("had arrived")
        case.person.page.get_by_role("link", name="See it").click()
        if case.form.then:
            sign(case)


def request_lost(case: Case) -> None:
    press_and_lose(case, State.LOSES_WHAT_IS_SENT)
    if case.form.signs:
        case.open()
        go_on(case)


def press_and_lose(case: Case, state: State) -> None:
    before = case.wire.lost
    with case.wire.being(state):
        with suppress(Error):  # the browser may show its own page of an error
            case.button().click()
        until = time.monotonic() + WAIT_MS / 1000
        while case.wire.lost == before and time.monotonic() < until:
            time.sleep(0.05)
        time.sleep(1)  # the browser tries a second time by itself
    assert case.wire.lost > before


def go_on(case: Case) -> None:
    if not case.button().count():  # it stands in the last step
        case.person.page.locator(".step:visible nav a").last.click()
    if case.form.proves:
        case.form.proves(case.person)
    case.button().click()
    if case.form.then:
        sign(case)


def sign(case: Case) -> None:
    case.person.page.get_by_role("button", name=case.form.then, exact=True).click()


PRESSED = (pressed_without_a_network, closed_after_pressing, answer_lost, request_lost)


def cuts_of(form: Form, turn: int = 0) -> list[tuple]:
    """While it is filled in one after the other, each first in its turn; then each way of its sending by itself. The
    crate in hand is forgotten with the session: what was entered for it comes back when it is chosen again."""
    begins = turn % len(FILLED_IN)
    in_turn = FILLED_IN[begins:] + FILLED_IN[:begins]
    filled_in = (cut for cut in in_turn if form.name != "put away" or cut is not signed_out)
    return [tuple(filled_in), *((cut,) for cut in PRESSED)]


def cut_off(case: Case, cuts: tuple, turn: int = 0) -> None:
    """Filled in, cut off, and gone on with to its end; a form in steps is cut off at each, each way in turn. At the end
    it is cut off as it is sent, if that is one of the ways."""
    while_filled_in = tuple(cut for cut in cuts if cut in FILLED_IN)
    as_sent = next((cut for cut in cuts if cut in PRESSED), None)
    case.open()
    steps = case.form.fill if isinstance(case.form.fill, tuple) else (case.form.fill,)
    for number, fill in enumerate(steps):
        fill(case.person, case.address)
        if now := while_filled_in[(number - turn) % len(steps) :: len(steps)]:
            put_back(case, now)
    if as_sent:
        case.kept()
        as_sent(case)
    else:
        go_on(case)
    case.becomes(1)
    case.person.page.wait_for_timeout(300)
    assert case.done() == 1
    case.nothing_is_left()


def put_back(case: Case, cuts: tuple) -> None:
    case.kept()
    entered = case.entered()
    for cut in cuts:
        cut(case)
        again = case.entered()
        lost = [one for one in entered if one not in again]
        assert not lost, f"{case.form.name}, {cut.__name__}: {lost} not among {again}"
