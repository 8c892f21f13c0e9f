"""A tablet at the bench, as wide as one is: marked by the office, changed between two people by a tap and a PIN, which
is asked again for a signature."""

import pytest

from tests.browser.watching import chosen, signed_in, window
from tests.demo_copy import LOCOMOTIVE, PASSWORD
from tests.pictures import a_photo

pytestmark = pytest.mark.needs_chromium

TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}
PINS = {"bram": "407193", "petra": "826405"}
WHO = {"bram": "Bram Selwicke", "petra": "Petra Fennimoor"}
CLEANED = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    WHERE piece.state = 'cleaned' AND place.crack_check = '' ORDER BY piece.id LIMIT 1"""


def switch(person, username: str) -> int:
    """Two taps, with the PIN between them."""
    person.open("/switch/")
    person.page.get_by_role("link", name=WHO[username]).tap()
    person.page.get_by_label("Your PIN").fill(PINS[username])
    return person.press(f"I am {WHO[username]}")


def test_two_people_take_turns_and_sign_with_their_own_pin(browser, register):
    with window(browser, register.address, **TABLET) as person:
        signed_in(person, "ada", anew=True)
        person.open("/tablets/")
        person.page.get_by_label("What it is called").fill("Bench tablet")
        person.press("Make this a shared tablet")
        for username, pin in PINS.items():
            person.sends("/sign-in/?other", username=username, password=PASSWORD)
            person.sends("/me/", to="/me/pin", **{"pin-pin": pin, "pin-old": PASSWORD})
        assert switch(person, "bram") == 302
        person.fits()
        assert switch(person, "petra") == 302
        person.sees(WHO["petra"])
        code = register.one(CLEANED)
        person.open(f"/t/{code}/examine")
        person.fits()
        for field, value in (("look", "visual"), ("result", "sound")):
            person.choose(field, value)
        person.press("Read it over, then sign")
        person.page.get_by_label("Your PIN").wait_for()


NUT = """
    SELECT tag.code, piece.name || ', ' || place."end" FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.fitted_id
    JOIN parts_subassembly part ON part.id = place.subassembly_id
    WHERE part.code = 'buffing-drawgear' AND place.name = 'draw hook nut and cotter' ORDER BY piece.id LIMIT 1"""
RECORD = """
    SELECT count(*) FROM inspections_boxedpiece inside JOIN parts_tag tag ON tag.component_id = inside.component_id
    WHERE tag.code = ? AND inside.built = 'end float 1/32 in (no limits set, not judged)'
    AND inside.who LIKE 'Bram % fitted it, Ines % checked'"""


def follow(person, name) -> None:
    with person.page.expect_navigation():
        person.page.get_by_role("link", name=name).last.tap()
    person.fits()


def checked_by_ines(person) -> None:
    person.page.locator("[name=checker]").select_option(label="Ines Tamwright")
    person.page.locator("[name=checker_password]").fill(PASSWORD)


def test_a_fitter_goes_from_the_kit_to_the_signed_record_of_boxing_up(browser, register):
    ((code, place),) = register.rows(NUT)
    with window(browser, register.address, "bram", **TABLET) as person:
        person.hands().send(f"/t/{code}/do/take-off", reason="The drawgear is opened up (invented).")
        person.open(f"/l/{LOCOMOTIVE}/s/buffing-drawgear/")
        follow(person, "Collect the kit")
        person.press("Collect kit")
        person.sees("0 of 1 in hand")
        person.open(f"/t/{code}")  # as the camera of the tablet opens it
        person.press("Tick for the kit: Buffing and drawgear")
        person.sees("1 of 1 in hand")
        person.press("End collecting")
        follow(person, "Put it together")
        person.page.locator("#go-on").get_by_role("link", name="Refit").tap()
        for label, words in (("tightened", "120 lbf ft"), ("locked", "split pin"), ("built", "end float 1/32")):
            person.page.locator(f"[name={label}]").fill(words)
        checked_by_ines(person)
        assert person.press("Refit it") == 422  # a figure without its unit
        person.page.locator("[name=built]").fill("end float 1/32 in")
        checked_by_ines(person)
        person.press("Refit it")
        person.page.locator("#messages").get_by_text(f"Refitted: {place}.").wait_for()
        follow(person, "Box it up")
        person.sees("No photo shows its inside.")
        follow(person, "Take photos of its inside")
        person.page.locator("input[type=file]").first.set_input_files([chosen(a_photo())])
        person.page.evaluate("window.thePageBefore = true")
        person.page.get_by_role("button", name="Save photos", exact=True).click()  # sent by itself, as one that waited
        person.waits_until("!window.thePageBefore")
        person.open(f"/l/{LOCOMOTIVE}/s/buffing-drawgear/box-up")
        for name, words in (
            ("tools_in", "7"),
            ("tools_out", "6"),
            ("rags_in", "3"),
            ("rags_out", "3"),
            ("seen", "Oiled."),
        ):
            person.page.locator(f"[name={name}]").fill(words)
        checked_by_ines(person)
        assert person.press("Sign and box up") == 422  # a tool is still inside
        person.page.locator("[name=tools_out]").fill("7")
        checked_by_ines(person)
        assert person.press("Sign and box up") == 302
        person.sees("Bram Selwicke fitted it, Ines Tamwright checked")
        assert register.one(RECORD, code) == 1
