"""The forms a shed uses, each with how it is come to, filled in and sent, and how the database shows what was done.

Every `begin` takes a piece, a crate or a record that no form before it took, so that what is counted is its own.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass

from tests.browser.watching import Person, chosen
from tests.demo_copy import Register
from tests.pictures import a_photo

PIECES = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    LEFT JOIN parts_position place ON place.id = piece.place_id
    WHERE piece.quantity = 1 AND piece.vouched_state = '' AND {} ORDER BY piece.id DESC"""
LYING = PIECES.format("piece.state = 'stripped' AND piece.location_id IS NOT NULL")
PLAIN = PIECES.format("piece.state = 'cleaned' AND place.crack_check = '' AND NOT place.pressure_part")
TO_CRACK_CHECK = PIECES.format("piece.state = 'cleaned' AND place.crack_check = 'magnetic particle'")
TO_MEASURE = PIECES.format(
    "piece.state IN ('cleaned', 'crack-checked') "
    "AND EXISTS (SELECT 1 FROM inspections_dimension size WHERE size.position_id = piece.place_id)"
)
FITTED = PIECES.format("piece.state = 'refitted'")  # what is stopped is of no use to other tests
TO_REFIT = PIECES.format("piece.state = 'accepted' AND NOT place.safety_critical")
EVENTS_OF = """SELECT count(*) FROM parts_event JOIN core_eventsubject subject ON subject.event_id = parts_event.id
    WHERE action = ? AND kind = 'piece' AND number = (SELECT component_id FROM parts_tag WHERE code = ?)"""
CRATES = """SELECT id FROM parts_location place WHERE name LIKE 'Crate%' AND NOT retired AND NOT EXISTS
    (SELECT 1 FROM parts_stocktake taken WHERE taken.location_id = place.id) ORDER BY id"""
PLATE = """SELECT part_id FROM inspections_boilerrecord WHERE kind = 'thickness survey' ORDER BY id LIMIT 1"""
PATH = "SELECT name FROM parts_location WHERE id = ?"


@dataclass(frozen=True)
class Form:
    """`done` counts, before and after: without it the form is only filled in and put back. `then` is pressed on the
    page of signing that follows."""

    name: str
    who: str
    begin: Callable[["Scene", Person], str]
    fill: Callable[[Person, str], None]
    button: str
    done: Callable[[Register, str], int] | None = None
    then: str = ""

    @property
    def signs(self) -> bool:
        return bool(self.then)


class Scene:
    """What is still free for a form to be tried on; once all of it was, it begins anew."""

    def __init__(self, register: Register):
        self.register = register
        self._used: dict[str, set[str]] = {}
        self.number = 0

    def free(self, sql: str) -> str:
        used = self._used.setdefault(sql, set())
        rows = [row[0] for row in self.register.rows(sql)]
        if not set(rows) - used:
            used.clear()
        found = next(row for row in rows if row not in used)
        used.add(found)
        return found

    def of_its_own(self) -> str:
        """Words that nothing else in the register says."""
        self.number += 1
        return f"odd bracket {self.number}"


def at_piece(sql: str, ending: str):
    def begin(scene: Scene, person: Person) -> str:
        while True:
            address = f"/t/{scene.free(sql)}/{ending}"
            person.open(address)
            if person.page.locator("main form[method=post]").count():  # with this one it can be done
                return address

    return begin


def code_of(address: str) -> str:
    return address.split("/")[2]


def events(word: str):
    return lambda register, address: register.one(EVENTS_OF, word, code_of(address))


def photo(person: Person, field: str) -> None:
    person.page.locator(f"#{field}").set_input_files([chosen(a_photo())])


# --- filling in


def another_way(person, address):
    person.page.locator("summary", has_text="Another way").click()
    person.page.locator("[name=method_other]").fill("scraped by hand, then paraffin")


def where_to(person, address):
    told = person.page.locator("main").inner_text()
    places = [place.get_attribute("value") for place in person.page.locator("datalist option").all()]
    elsewhere = [place for place in places if place not in told]  # where it lies already it cannot be moved to
    person.page.get_by_label("Where to").fill(elsewhere[-1])


def a_loose_piece(person, address):
    person.page.locator("[name=name]").fill(address.split("#")[1])
    photo(person, "photo")


def what_is_wrong(person, address):
    person.page.locator("[name=why]").fill("The sling is frayed (invented).")


def a_code(person, address):
    person.page.locator("#code").fill(address.split("#")[1])


def a_crack_check(person, address):
    page = person.page
    person.choose("method", "magnetic particle")
    for name in ("procedure", "technique", "equipment", "consumables"):
        page.locator(f"[name={name}]").fill("WP 1, yoke 1, ink 1 (invented)")
    page.get_by_role("link", name="Next: Reached").click()
    for surface in page.locator("[name^=reached]").all():
        surface.check()
    page.get_by_label("two directions about 90° apart").check()
    person.choose("demagnetised", "yes")
    person.choose("viewing", "colour contrast")
    page.get_by_label("Light on the surface").fill("800")
    page.get_by_role("link", name="Next: Marks").click()
    if page.locator("[data-tap]").count():
        page.locator("[data-tap] input[type=image]").click(position={"x": 60, "y": 40})
    else:
        page.locator("[data-add]").click()
    page.locator("[name=mark-0-length]").fill("12")
    page.locator("[name=mark-0-where]").fill("at the fillet")
    page.get_by_role("link", name="Next: Result").click()
    person.choose("result", "indication")


def a_look(person, address):
    person.choose("look", "visual")
    for surface in person.page.locator("[name^=reached]").all():
        surface.check()
    person.choose("result", "sound")
    person.page.locator("[name=remarks]").fill("Looked at in daylight.")


def anything(person, address):
    """Whatever the form has: in each box a figure, of each choice the last. It is put back and not sent."""
    for box in person.page.locator("main form[method=post] :is(input:not([type]), input[type=text], textarea)").all():
        if box.is_visible():
            box.fill("12.5")
    for choice in person.page.locator("main form[method=post] fieldset:has(input[type=radio]):visible").all():
        choice.locator("input[type=radio]").last.check()
    for box in person.page.locator("main form[method=post] input[type=checkbox]:visible").all():
        box.check()
    for choice in person.page.locator("main form[method=post] select:visible").all():
        choice.select_option(index=choice.locator("option").count() - 1)


def readings(person, address):
    for number, point in enumerate(person.page.locator(".readings input").all()[:6]):
        point.fill(f"12.{number}")


# --- where it begins


def loose(scene, person) -> str:
    address = f"/strip/?loose=1#{scene.of_its_own()}"
    person.open("/strip/?loose=1")
    return address


def into_a_crate(scene, person) -> str:
    crate = scene.free(CRATES)
    person.open("/put-away/?another=1")
    person.page.locator("[name=into]").last.fill(scene.register.one(PATH, crate))
    person.press("This one")
    return f"/put-away/#{scene.free(LYING)}"


def counting(scene, person) -> str:
    person.open("/stock-take/")
    person.page.locator("[name=into]").first.fill(scene.register.one(PATH, scene.free(CRATES)))
    person.press("Count this one")
    return f"{person.page.url.removeprefix(person.address)}#{scene.free(LYING)}"


def a_survey(scene, person) -> str:
    person.open(f"/boiler-parts/{scene.register.one(PLATE)}/survey")
    gauge = person.page.locator("[name=instrument]")
    gauge.select_option(index=1)
    for name, value in {
        "down": "2",
        "across": "4",
        "opening": "10.0",
        "block": "10.0",
        "reader": "A",
        "writer": "B",
    }.items():
        person.page.locator(f"[name={name}]").fill(value)
    person.press("Begin survey")
    return person.page.url.removeprefix(person.address)


def stays(scene, person) -> str:
    wall = scene.register.one(
        "SELECT part_id FROM inspections_boilerrecord WHERE kind = 'stay map' ORDER BY id LIMIT 1"
    )
    person.open(f"/boiler-parts/{wall}/stay-map")
    person.press("Begin map")
    return person.page.url.removeprefix(person.address)


def pieces_named(register, address):
    return register.one("SELECT count(*) FROM parts_component WHERE name = ?", address.split("#")[1])


def counted(register, address):
    return register.one(
        "SELECT count(*) FROM parts_sighting WHERE stocktake_id = ? AND component_id = "
        "(SELECT component_id FROM parts_tag WHERE code = ?)",
        address.split("/")[2],
        address.split("#")[1],
    )


def read_of_survey(register, address):
    entered = register.one("SELECT entered FROM inspections_boilerrecord WHERE id = ?", address.split("/")[2])
    return len(json.loads(entered).get("readings", {})) // 6


def moves_of_code(register, address):
    return register.one(EVENTS_OF, "move", address.split("#")[1])


def signed_by(kind: str):
    return lambda register, address: register.one(
        "SELECT count(*) FROM inspections_examination WHERE kind = ? AND signed_at IS NOT NULL "
        "AND component_id = (SELECT component_id FROM parts_tag WHERE code = ?)",
        kind,
        code_of(address),
    )


READ_OVER = "Read it over, then sign"
FORMS = (
    Form("clean", "pim", at_piece(LYING, "do/clean"), another_way, "Cleaned this way", events("clean")),
    Form("move", "pim", at_piece(LYING, "move"), where_to, "It lies there now", events("move")),
    Form("strip", "pim", loose, a_loose_piece, "Save piece", pieces_named),
    Form("put away", "nell", into_a_crate, a_code, "Put it in", moves_of_code),
    Form("count", "nell", counting, a_code, "Seen", counted),
    Form("stop", "pim", at_piece(FITTED, "stop"), what_is_wrong, "Stop work on it", events("stop")),
    Form("survey", "petra", a_survey, readings, "Save readings", read_of_survey),
    Form("look", "petra", at_piece(PLAIN, "examine"), a_look, READ_OVER, signed_by("visual"), "Sign it"),
    Form(
        "crack check", "petra", at_piece(TO_CRACK_CHECK, "crack-check"), a_crack_check, READ_OVER,
        signed_by("crack check"), "Sign it",
    ),
    Form("measure", "petra", at_piece(TO_MEASURE, "measure"), anything, READ_OVER),
    Form("decide", "maud", at_piece(LYING, "decide"), anything, "Decide"),
    Form("refit", "bram", at_piece(TO_REFIT, "do/refit"), anything, "Refit it"),
    Form("note", "pim", at_piece(LYING, "describe"), anything, "Save"),
    Form("stay map", "petra", stays, anything, "Save stays"),
)  # fmt: skip
