"""The forms a shed uses, each with how it is come to, filled in and sent, and how the database shows what was done.

Every `begin` takes a piece, a crate or a record that no form before it took, so that what is counted is its own.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import pytest

from tests.browser.watching import Person
from tests.cut_off.filling import (
    A_CRACK_CHECK,
    a_code,
    a_decision,
    a_look,
    a_loose_piece,
    a_measurement,
    a_picture,
    another_way,
    found_of_stays,
    how_held,
    nothing,
    readings,
    what_is_seen,
    what_is_wrong,
    where_to,
)
from tests.demo_copy import LOCOMOTIVE, Register

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
TO_STOP = PIECES.format("piece.state = 'refitted' AND place.safety_critical")  # afterwards of no use to others
TO_LOCK = PIECES.format("piece.state = 'refitted' AND NOT place.safety_critical")  # a checker's PIN is never kept
TO_REFIT = PIECES.format("piece.state = 'accepted' AND NOT place.safety_critical")
EVENTS_OF = """SELECT count(*) FROM parts_event JOIN core_eventsubject subject ON subject.event_id = parts_event.id
    WHERE action = ? AND kind = 'piece' AND number = (SELECT component_id FROM parts_tag WHERE code = ?)"""
CRATES = """SELECT id FROM parts_location place WHERE name LIKE 'Crate%' AND NOT retired AND NOT EXISTS
    (SELECT 1 FROM parts_stocktake taken WHERE taken.location_id = place.id) ORDER BY id"""
PLATE = """SELECT part_id FROM inspections_boilerrecord WHERE kind = 'thickness survey' ORDER BY id LIMIT 1"""
PATH = "SELECT name FROM parts_location WHERE id = ?"


@dataclass(frozen=True)
class Form:
    """`done` counts, before and after. What `signs` is never sent by itself; `then` is pressed on the page of signing
    that follows, if one does. `fill` may be in steps; `button` is its name, or how it is found in what the address ends
    in."""

    name: str
    who: str
    begin: Callable[["Scene", Person], str]
    fill: Callable[[Person, str], None] | tuple[Callable[[Person, str], None], ...]
    button: str
    done: Callable[[Register, str], int]
    signs: bool = False
    then: str = ""


class Scene:
    """What is still free for a form to be tried on; once all of it was, it begins again."""

    def __init__(self, register: Register):
        self.register = register
        self._used: dict[str, set[str]] = {}
        self.number = 0
        self.last: dict[str, str] = {}  # of a form with few things to be tried on: taken back, and tried on again

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
        for _ in range(60):
            address = f"/t/{scene.free(sql)}/{ending}"
            person.open(address)
            if person.page.locator("main form[method=post]").count():  # with this one it can be done
                return address
        raise AssertionError(f"no piece is left for {ending}")

    return begin


def code_of(address: str) -> str:
    return address.split("/")[2]


def events(word: str):
    return lambda register, address: register.one(EVENTS_OF, word, code_of(address))


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


def begin_it(person) -> None:
    """Of a long form the button stands above it too."""
    with person.page.expect_navigation():
        person.page.locator("#confirm-form button").click()


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
    begin_it(person)
    return person.page.url.removeprefix(person.address)


def stays(scene, person) -> str:
    wall = scene.register.one(
        "SELECT part_id FROM inspections_boilerrecord WHERE kind = 'stay map' ORDER BY id LIMIT 1"
    )
    person.open(f"/boiler-parts/{wall}/stay-map")
    begin_it(person)
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


def locking(scene, person) -> str:
    """Step by step on the page on which a subassembly is put together."""
    address = at_piece(TO_LOCK, "do/lock?from=together")(scene, person)
    return f"{address}#{scene.of_its_own()}"


def refitting(scene, person) -> str:
    """Few are ready: one is taken off again, and goes on once more."""
    if address := scene.last.get("refit"):
        person.open(address.replace("refit", "take-off"))
        if person.page.locator("[name=reason]").count():  # else it was not done the last time
            person.page.locator("[name=reason]").fill("Tried on only (invented).")
            person.press("Take it off")
        person.open(address)
        if person.page.locator("[name=locked]").count():  # else its work was stopped meanwhile
            return f"{address}#{scene.of_its_own()}"
    scene.last["refit"] = at_piece(TO_REFIT, "do/refit")(scene, person)
    return f"{scene.last['refit']}#{scene.of_its_own()}"


def press_each(person, name: str) -> None:
    """One after the other, each time until the page that follows is there."""
    for _ in range(person.page.get_by_role("button", name=name).count()):
        person.page.evaluate("window.thePageBefore = true")
        person.page.get_by_role("button", name=name).first.click()
        person.waits_until("!window.thePageBefore")
        person.page.wait_for_load_state()


def a_job_of_the_day(scene, person) -> str:
    person.open(f"/l/{LOCOMOTIVE}/day/{date.today()}/")
    plan = person.page.get_by_role("button", name="Propose a day sheet")
    if plan.count():
        plan.click()
    press_each(person, "Take the tick off")
    job = person.page.locator("article:has(button[value=done])").first
    if not job.count():
        pytest.skip("nobody is in today, so there is no job to tick")
    return f"{person.page.url.removeprefix(person.address).split('#')[0]}#{job.get_attribute('id')}"


def collecting(scene, person) -> str:
    if not (address := scene.last.get("kit")):
        person.open(f"/l/{LOCOMOTIVE}/s/brake-rigging/kit")
        person.page.locator("main form[method=post] button").last.click()
        person.page.wait_for_url("**/kits/**")
        address = scene.last["kit"] = person.page.url.removeprefix(person.address)
    person.open(address)
    press_each(person, "Put back")
    code = person.page.locator("li.put a.row .mono").first.inner_text().replace(" ", "")
    return f"{address}#{code}"


def in_hand(register, address):
    return register.one(
        "SELECT count(*) FROM parts_kitline WHERE kit_id = ? AND taken_at IS NOT NULL", address.split("/")[2]
    )


def ticked(register, address):
    return register.one("SELECT done_at IS NOT NULL FROM parts_dayjob WHERE id = ?", address.rpartition("-")[2])


def photos_of_code(register, address):
    return register.one(
        "SELECT count(*) FROM parts_photo WHERE component_id = (SELECT component_id FROM parts_tag WHERE code = ?)",
        code_of(address),
    )


def decided(register, address):
    return register.one(
        "SELECT count(*) FROM parts_decision WHERE component_id = (SELECT component_id FROM parts_tag WHERE code = ?)",
        code_of(address),
    )


def stays_found(register, address):
    entered = register.one("SELECT entered FROM inspections_boilerrecord WHERE id = ?", address.split("/")[2])
    return len(json.loads(entered).get("stays", {})) // 6


READ_OVER = "Read it over, then sign"
FORMS = (
    Form("clean", "pim", at_piece(LYING, "do/clean"), another_way, "Cleaned this way", events("clean")),
    Form("move", "pim", at_piece(LYING, "move"), where_to, "Save place", events("move")),
    Form("note", "pim", at_piece(LYING, "describe"), what_is_seen, "Save", events("describe")),
    Form("photo", "pim", at_piece(LYING, "photos"), a_picture, "Save photos", photos_of_code),
    Form("strip", "pim", loose, a_loose_piece, "Save piece", pieces_named),
    Form("put away", "nell", into_a_crate, a_code, "Put it in", moves_of_code),
    Form("count", "nell", counting, a_code, "Seen", counted),
    Form("kit", "nell", collecting, a_code, "In hand", in_hand),
    Form("day sheet", "ada", a_job_of_the_day, nothing, "button[value=done]", ticked),
    Form("stop", "pim", at_piece(TO_STOP, "stop"), what_is_wrong, "Stop work on it", events("stop")),
    Form("refit", "bram", refitting, how_held, "Refit it", events("refit")),
    Form("lock", "bram", locking, how_held, "Say how it is locked", events("lock")),
    Form("survey", "petra", a_survey, readings, "Save readings", read_of_survey),
    Form("stay map", "petra", stays, found_of_stays, "Save stays", stays_found),
    Form("look", "petra", at_piece(PLAIN, "examine"), a_look, READ_OVER, signed_by("visual"), True, "Sign it"),
    Form(
        "crack check", "petra", at_piece(TO_CRACK_CHECK, "crack-check"), A_CRACK_CHECK, READ_OVER,
        signed_by("crack check"), True, "Sign it",
    ),
    Form(
        "measure", "petra", at_piece(TO_MEASURE, "measure"), a_measurement, READ_OVER, signed_by("dimensional"), True,
        "Sign it",
    ),
    Form("decide", "maud", at_piece(LYING, "decide"), a_decision, "Decide", decided, True),
)  # fmt: skip
