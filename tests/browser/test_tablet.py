"""A tablet at the bench, as wide as one is: marked by the office, changed between two people by a tap and a PIN, which
is asked again for a signature."""

import pytest

from tests.browser.watching import window
from tests.demo_copy import PASSWORD

pytestmark = pytest.mark.needs_chromium

TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}
PINS = {"bram": "407193", "petra": "826405"}
WHO = {"bram": "Bram Selwicke", "petra": "Petra Fennimoor"}
CLEANED = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    WHERE piece.state = 'cleaned' AND place.crack_check = '' ORDER BY piece.id LIMIT 1"""


def sign_in(person, username: str) -> None:
    person.open("/sign-in/?other")
    person.page.get_by_label("Sign-in name").fill(username)
    person.page.get_by_label("Password or PIN").fill(PASSWORD)
    person.press("Sign in")
    person.page.locator("nav").wait_for()


def switch(person, username: str) -> int:
    """Two taps, with the PIN between them."""
    person.open("/switch/")
    person.page.get_by_role("link", name=WHO[username]).tap()
    person.page.get_by_label("Your PIN").fill(PINS[username])
    return person.press(f"I am {WHO[username]}")


def test_two_people_take_turns_and_sign_with_their_own_pin(browser, register):
    with window(browser, register.address, "ada", **TABLET) as person:
        person.page.locator("nav").wait_for()
        person.open("/tablets/")
        person.page.get_by_label("What it is called").fill("Bench tablet")
        person.press("Make this a shared tablet")
        for username, pin in PINS.items():
            sign_in(person, username)
            person.open("/me/")
            person.page.get_by_text("Choose a PIN").tap()
            person.page.get_by_label("The new PIN").fill(pin)
            person.page.locator("#pin input[name=pin-old]").fill(PASSWORD)
            assert person.press("Set the PIN") == 302
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
