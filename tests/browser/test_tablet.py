"""A tablet at the bench, as wide as one is: changed between two people by a tap and a PIN, which is asked again for a
signature; and what the bench does on it fits. From the kit to boxing up is walked in `tests/ways/test_boxing_up.py`."""

import pytest

from tests.browser.watching import signed_in, window
from tests.demo_copy import LOCOMOTIVE, PASSWORD

pytestmark = pytest.mark.needs_chromium

TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}
PINS = {"bram": "407193", "petra": "826405"}
WHO = {"bram": "Bram Selwicke", "petra": "Petra Fennimoor"}
CLEANED = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    WHERE piece.state = 'cleaned' AND place.crack_check = '' ORDER BY piece.id LIMIT 1"""
NUT = """
    SELECT tag.code FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.fitted_id
    JOIN parts_subassembly part ON part.id = place.subassembly_id
    WHERE part.code = 'buffing-drawgear' AND place.name = 'draw hook nut and cotter' ORDER BY piece.id LIMIT 1"""
DRAWGEAR = f"/l/{LOCOMOTIVE}/s/buffing-drawgear"


def test_two_people_take_turns_at_the_bench_and_sign_with_their_own_pin(browser, register):
    """The office marked it as shared, and both have their PIN."""
    with window(browser, register.address, **TABLET) as person:
        signed_in(person, "ada", anew=True)
        person.sends("/tablets/", name="Bench tablet")
        for username, pin in PINS.items():
            person.sends("/sign-in/?other", username=username, password=PASSWORD)
            person.sends("/me/", to="/me/pin", **{"pin-pin": pin, "pin-old": PASSWORD})
        number = register.one("SELECT id FROM workshop_person WHERE username = 'bram'")
        person.sends(f"/switch/{number}", proof=PINS["bram"])
        from_the_kit_to_boxing_up(person, register.one(NUT))
        assert switch(person, "petra") == 302
        person.sees(WHO["petra"])
        looked_at(person, register.one(CLEANED))


def switch(person, username: str) -> int:
    """Two taps, with the PIN between them."""
    person.open("/switch/")
    person.fits()
    person.page.get_by_role("link", name=WHO[username]).tap()
    person.page.get_by_label("Your PIN").fill(PINS[username])
    return person.press(f"I am {WHO[username]}")


def from_the_kit_to_boxing_up(person, nut) -> None:
    """The pages that are open on it while a subassembly is put together fit."""
    hands = person.hands()
    hands.send(f"/t/{nut}/do/take-off", reason="The drawgear is opened up (invented).")
    kit = hands.send(f"{DRAWGEAR}/kit").address
    for page in (kit, f"{DRAWGEAR}/together", f"/t/{nut}/do/refit", f"{DRAWGEAR}/box-up"):
        assert person.open(page) == 200
        person.fits()


def looked_at(person, code) -> None:
    person.open(f"/t/{code}/examine")
    person.fits()
    for field, value in (("look", "visual"), ("result", "sound")):
        person.choose(field, value)
    person.press("Read it over, then sign")
    person.page.get_by_label("Your PIN").fill(PINS["petra"])
    person.fits()
    assert person.press("Sign it") == 302
    person.sees("Signed: ")
