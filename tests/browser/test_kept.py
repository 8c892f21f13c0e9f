"""Work that is kept on the phone: with the network gone, slow, or losing answers; signed out; refused; browser closed.

The pages are opened at a name that no browser trusts without HTTPS, as in a shed: no service worker, no randomUUID.
"""

import time
from contextlib import contextmanager

import pytest
from playwright.sync_api import expect

from tests import tools
from tests.browser.choosing import stripped_pieces
from tests.browser.watching import PHONE, STATE, Person, chosen, elsewhere, signed_in, window
from tests.demo_copy import Register
from tests.pictures import a_photo
from tests.running import Address

pytestmark = pytest.mark.needs_chromium

PHOTOS_OF = "SELECT count(*) FROM parts_photo WHERE component_id = (SELECT component_id FROM parts_tag WHERE code = ?)"
EVENTS_OF = """SELECT count(*) FROM parts_event JOIN core_eventsubject subject ON subject.event_id = parts_event.id
    WHERE action = ? AND kind = 'piece' AND number = (SELECT component_id FROM parts_tag WHERE code = ?)"""
SIGNALS = 40_000


@pytest.fixture(scope="module")
def shed(register):
    address = Address(register.address.replace("127.0.0.1", "shed.local"))
    address.process = register.address.process
    return Register(address, register.folder)


@pytest.fixture(scope="module")
def codes(shed):
    """Each test takes a piece of its own."""
    return iter(stripped_pieces(shed))


@pytest.fixture
def code(codes):
    return next(codes)


@pytest.fixture(scope="module")
def phone(browser, shed):
    with window(browser, shed.address, **PHONE) as person:
        person.page.context.set_default_timeout(SIGNALS)
        yield person


@pytest.fixture
def pim(phone):
    """The phone of one person, on which each test leaves nothing that waits."""
    signed_in(phone, "pim")
    yield phone
    phone.page.context.set_offline(False)
    nothing_waits(phone)
    phone.complaints.clear()  # of a network that was gone


@pytest.fixture
def asked(pim):
    """What Pim's phone asks; each question is accepted."""
    questions = []

    def accept(dialog) -> None:
        questions.append(dialog.message)
        dialog.accept()

    pim.page.on("dialog", accept)
    yield questions
    pim.page.remove_listener("dialog", accept)


def choose_photos(person, number: int, **how) -> None:
    files = [chosen(a_photo(f"{n}.jpg", **how)) for n in range(number)]
    person.page.locator("#photos").set_input_files(files)
    person.page.get_by_role("button", name="Save photos").click()


def eventually(found, wanted) -> None:
    """The phone sends by itself, in its own time."""
    until = time.monotonic() + SIGNALS / 1000
    while found() != wanted and time.monotonic() < until:
        time.sleep(0.1)
    assert found() == wanted


def waits(person, number: int) -> None:
    expect(person.page.locator("#waiting")).to_contain_text(f"{number} waiting on this phone", timeout=SIGNALS)


def nothing_waits(person) -> None:
    expect(person.page.locator("#waiting")).to_be_empty(timeout=SIGNALS)


def test_photos_chosen_without_a_network_arrive_by_themselves_once_each(shed, pim, code):
    pim.open(f"/t/{code}/photos")
    assert pim.page.evaluate("[window.isSecureContext, 'serviceWorker' in navigator]") == [False, False]
    pim.page.context.set_offline(True)
    choose_photos(pim, 5)
    waits(pim, 5)
    pim.sees("You may walk on")
    pim.fits()
    before = shed.one(PHOTOS_OF, code)
    pim.page.context.set_offline(False)
    eventually(lambda: shed.one(PHOTOS_OF, code), before + 5)
    nothing_waits(pim)


@contextmanager
def kept_in(chromium, folder, shed):
    """A phone that keeps its things in a folder: opened on it again, it is the same phone."""
    context = chromium.launch_persistent_context(
        folder, executable_path=tools.chromium(), args=tools.CHROMIUM_FLAGS, locale="en-GB", **PHONE
    )
    context.set_default_timeout(SIGNALS)
    yield Person(context.pages[0], shed.address)
    context.close()


def test_what_was_kept_is_there_after_the_browser_was_closed(browser, shed, tmp_path, code):
    with kept_in(browser.browser_type, tmp_path, shed) as pim:
        signed_in(pim, "pim")
        pim.open(f"/t/{code}/do/clean")
        pim.page.context.set_offline(True)
        pim.page.get_by_role("button", name="Hot wash").click()
        pim.sees("Kept on this phone.")
        waits(pim, 1)
    assert shed.one(STATE, code) == "stripped"
    with kept_in(browser.browser_type, tmp_path, shed) as pim:
        pim.open("/")
        eventually(lambda: shed.one(STATE, code), "cleaned")
        nothing_waits(pim)


def test_a_slow_link_brings_photos_one_by_one(shed, pim, code):
    """Forty kilobytes a second, until nobody listens at this end of the link any more."""
    pim.open(f"/t/{code}/photos")
    before = shed.one(PHOTOS_OF, code)
    link = pim.page.context.new_cdp_session(pim.page)
    slow = {"offline": False, "latency": 300, "downloadThroughput": 40_000, "uploadThroughput": 40_000}
    link.send("Network.emulateNetworkConditions", slow)
    choose_photos(pim, 3, size=(1600, 1200))
    pim.sees("1 of 3 photos has arrived.")
    nothing_waits(pim)
    pim.sees("Done. 3 photos saved.")
    assert shed.one(PHOTOS_OF, code) == before + 3
    link.detach()


def test_a_signed_out_phone_keeps_its_work_and_no_one_else_sends_it(shed, pim, code):
    pim.open(f"/t/{code}/do/clean")
    pim.page.context.clear_cookies()
    pim.page.get_by_role("button", name="Hot wash").click()
    pim.sees("It goes once you have signed in again.")
    pim.open("/sign-in/")
    expect(pim.page.locator("#waiting")).to_contain_text("must sign in to send them")
    signed_in(pim, "wren")
    pim.open("/waiting/")
    expect(pim.page.locator("#waiting")).to_contain_text("Kept by Pim")
    pim.sees("it goes under no other name")
    assert shed.one(STATE, code) == "stripped"
    signed_in(pim, "pim")
    pim.open("/waiting/")
    eventually(lambda: shed.one(STATE, code), "cleaned")
    nothing_waits(pim)


def test_what_was_kept_is_not_pressed_a_second_time(pim, code):
    """Not by the button at the head of the form, nor by a place beside the form that moves the piece as well."""
    pim.open(f"/t/{code}/describe#id_notes")
    expect(pim.page.locator("[name=notes]")).to_be_in_viewport()
    expect(pim.page.locator("[name=notes]")).to_be_focused()
    save = pim.page.locator("main").get_by_role("button", name="Save", exact=True)
    expect(save).to_have_count(2)
    pim.page.context.set_offline(True)
    pim.page.locator("[name=notes]").fill("Two studs are new.")
    save.first.click()
    pim.sees("Kept on this phone.")
    expect(save).to_have_count(0)
    waits(pim, 1)
    pim.page.context.set_offline(False)
    nothing_waits(pim)
    moved_but_for_a_mistake(pim, code)
    pim.open(f"/t/{code}/move")
    buttons = pim.page.locator("main form[data-keep]").get_by_role("button")
    assert buttons.count() > 1
    pim.page.context.set_offline(True)
    buttons.first.click()
    pim.sees("Kept on this phone.")
    expect(buttons).to_have_count(0)


def moved_but_for_a_mistake(pim, code) -> None:
    """While the server answers the page goes on as a page without scripts, and what is refused does not wait."""
    pim.open(f"/t/{code}/move")
    field = pim.page.get_by_label("Where to")
    field.fill("the far side of the moon")
    pim.page.get_by_role("button", name="Save place").click()
    pim.sees("Not done yet")
    expect(field).to_have_value("the far side of the moon")
    nothing_waits(pim)
    field.fill(pim.page.locator("datalist option").last.get_attribute("value"))
    pim.press("Save place")
    nothing_waits(pim)


def test_what_somebody_else_moved_on_stays_until_a_person_settles_it(shed, pim, code):
    pim.open(f"/t/{code}/move")
    pim.page.context.set_offline(True)
    pim.page.get_by_label("Where to").fill("stores")
    crate = pim.page.locator("datalist option").first.get_attribute("value")
    pim.page.get_by_label("Where to").fill(crate)
    pim.page.get_by_role("button", name="Save place").click()
    waits(pim, 1)
    elsewhere(shed.address, "wren").send(f"/t/{code}/do/clean", method="hot wash")
    pim.page.context.set_offline(False)
    expect(pim.page.locator("#waiting")).to_contain_text("settle it")
    pim.page.locator("#waiting a").click()
    pim.sees("Wren Tolliscombe recorded “clean” on it at")
    pim.sees(f"Where to: {crate}")
    pim.fits()
    pim.page.get_by_role("button", name="Send it anyway").click()
    nothing_waits(pim)
    pim.sees("Nothing waits.")
    assert shed.one(EVENTS_OF, "move", code) >= 1


def test_two_things_done_to_one_piece_without_a_network_do_not_stand_in_each_others_way(shed, pim, code):
    second = pim.page.context.new_page()
    second.goto(f"{pim.address}/t/{code}/move")
    pim.open(f"/t/{code}/do/clean")
    pim.page.context.set_offline(True)
    pim.page.get_by_role("button", name="Hot wash").click()
    pim.sees("Kept on this phone.")
    second.get_by_label("Where to").fill(second.locator("datalist option").last.get_attribute("value"))
    second.get_by_role("button", name="Save place").click()
    waits(pim, 2)
    pim.page.context.set_offline(False)
    eventually(lambda: shed.one(STATE, code), "cleaned")
    nothing_waits(pim)
    second.close()
    assert not [sentence for sentence in pim.complaints if "ERR_INTERNET_DISCONNECTED" not in sentence]


def test_what_nobody_wants_any_more_is_dropped_after_a_question(shed, pim, asked, code):
    pim.open(f"/t/{code}/photos")
    pim.page.context.clear_cookies()
    before = shed.one(PHOTOS_OF, code)
    choose_photos(pim, 1)
    waits(pim, 1)
    pim.open("/waiting/")
    expect(pim.page.locator("canvas")).to_be_visible()
    pim.page.get_by_role("button", name="Drop it").click()
    nothing_waits(pim)
    assert "It has not arrived, and will be gone." in asked[0]
    assert shed.one(PHOTOS_OF, code) == before


FULL = "void (IDBObjectStore.prototype.add = () => { throw new DOMException('full', 'QuotaExceededError') })"


def test_a_full_phone_says_so_and_sends_from_the_open_page(shed, pim, asked, code):
    """As browsers say that a site has used up its room (Indexed Database API, QuotaExceededError). Once they are sent,
    the page goes on without asking whether one will leave it."""
    pim.open(f"/t/{code}/photos")
    pim.page.evaluate(FULL)
    before = shed.one(PHOTOS_OF, code)
    pim.page.context.set_offline(True)
    choose_photos(pim, 2)
    pim.sees("This phone has no room left, so 2 are not kept on it. Stay on this page until they are sent.")
    waits(pim, 2)
    pim.page.context.set_offline(False)
    eventually(lambda: shed.one(PHOTOS_OF, code), before + 2)
    nothing_waits(pim)
    assert not asked


def test_a_second_piece_is_entered_while_the_first_still_waits(shed, pim):
    entered = "SELECT count(*) FROM parts_component WHERE name LIKE 'unknown bracket %'"
    pim.open("/strip/?loose=1")
    pim.page.context.set_offline(True)
    for number in (1, 2):
        pim.page.get_by_label("What it is").fill(f"unknown bracket {number}")
        pim.page.get_by_role("button", name="Save piece").click()
        pim.page.get_by_role("button", name="Next piece").click()
        expect(pim.page.get_by_label("What it is")).to_have_value("")
    waits(pim, 2)
    assert shed.one(entered) == 0
    pim.page.context.set_offline(False)
    eventually(lambda: shed.one(entered), 2)
    nothing_waits(pim)


BECOMES_OLD = """field => {
    field.value = "K 1";
    field.dispatchEvent(new Event("input", {bubbles: true}));
    const item = {action: location.pathname};
    document.dispatchEvent(new CustomEvent("cotter:arrived", {detail: {item, awaited: false}}));
}"""


def test_a_page_does_not_change_by_itself_under_the_first_letters(pim, code):
    """What was pressed before arrives just as somebody begins to type on the same piece."""
    pim.open(f"/t/{code}/describe")
    pim.waits_until("document.documentElement.dataset.drafts === 'ready'")
    pim.page.evaluate("window.thePageBefore = true")
    pim.page.locator("[name=marks]").evaluate(BECOMES_OLD)
    pim.page.wait_for_timeout(1500)
    assert pim.page.evaluate("window.thePageBefore")
    expect(pim.page.locator("[name=marks]")).to_have_value("K 1")


def described(shed, code) -> tuple[str, str]:
    ((marks, notes),) = shed.rows(
        "SELECT marks, notes FROM parts_component WHERE id = (SELECT component_id FROM parts_tag WHERE code = ?)", code
    )
    return marks, notes


def test_whoever_saves_second_without_a_network_sees_both_too(shed, pim, code):
    pim.open(f"/t/{code}/describe")
    pim.page.context.set_offline(True)
    pim.page.locator("[name=marks]").fill("K 21")
    pim.page.locator("main").get_by_role("button", name="Save", exact=True).last.click()
    waits(pim, 1)
    elsewhere(shed.address, "wren").send(f"/t/{code}/describe", marks="K 12", notes="Two studs are new.")
    pim.page.context.set_offline(False)
    pim.sees("By now the register says: K 12")
    pim.open("/waiting/")
    pim.page.get_by_role("button", name="Send it anyway").click()
    nothing_waits(pim)
    assert described(shed, code) == ("K 21", "Two studs are new.")
