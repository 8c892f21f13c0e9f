"""What each form is tried on, and how it is come to.

Every one takes a piece, a crate or a record that no form before it took, so that what is counted is its own.
"""

from datetime import date

from tests.browser.watching import Person
from tests.cut_off.filling import a_picture, what_is_wrong
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
CRATES = """SELECT id FROM parts_location place WHERE name LIKE 'Crate%' AND NOT retired AND NOT EXISTS
    (SELECT 1 FROM parts_stocktake taken WHERE taken.location_id = place.id) ORDER BY id"""
PLATE = """SELECT part_id FROM inspections_boilerrecord WHERE kind = 'thickness survey' ORDER BY id LIMIT 1"""
FOUND = """SELECT id FROM inspections_examination WHERE result = 'indication' AND signed_at IS NOT NULL ORDER BY id"""
SPRING = PIECES.format("piece.name = 'draw hook spring'")
DRAWGEAR = f"/l/{LOCOMOTIVE}/s/buffing-drawgear"
PATH = "SELECT name FROM parts_location WHERE id = ?"


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


def closing(scene, person) -> str:
    """What was closed is opened again: a piece comes off and goes on, and its inside is photographed once more."""
    person.open(f"{DRAWGEAR}/box-up")
    if not person.page.locator("[name=tools_in]").count():
        piece = f"/t/{scene.register.rows(SPRING)[0][0]}/do"
        person.open(f"{piece}/take-off")
        if person.page.locator("[name=reason]").count():  # else it is off already
            person.page.locator("[name=reason]").fill("To look behind it (invented).")
            person.press("Take it off")
        person.open(f"{piece}/refit")
        person.page.locator("[name=locked]").fill("split pin")
        person.press("Refit it")
        person.open(f"{DRAWGEAR}/photos")
        a_picture(person, "")
        press_first(person, "Save photos")
        person.open(f"{DRAWGEAR}/box-up")
    return f"{DRAWGEAR}/box-up"


def testing(sort: str):
    def begin(scene, person) -> str:
        person.open(f"/boilers/1/test?sort={sort}+test")
        return f"/boilers/1/test?sort={sort}+test"

    return begin


def found_by_crack_check(scene, person) -> str:
    """It can be decided again."""
    for _ in scene.register.rows(FOUND):
        address = f"/examinations/{scene.free(FOUND)}/decide"
        person.open(address)
        if person.page.locator("[name=reason]").count():
            return address
    raise AssertionError("nothing that was found can be decided")


def stopped(scene, person) -> str:
    at_piece(TO_STOP, "stop")(scene, person)
    what_is_wrong(person, "")
    person.press("Stop work on it")
    address = f"/holds/{scene.register.one('SELECT max(id) FROM parts_holdpoint')}/lift"
    person.open(address)
    return address


def a_crate(scene, person) -> str:
    address = f"/where/{scene.free(CRATES)}/"
    person.open(address)
    person.page.locator("summary", has_text="What else can be done here").click()
    return address


def press_first(person, name: str) -> None:
    """Of several, and until the page that follows is there."""
    person.page.evaluate("window.thePageBefore = true")
    person.page.get_by_role("button", name=name).first.click()
    person.waits_until("!window.thePageBefore")
    person.page.wait_for_load_state()


def press_each(person, name: str) -> None:
    for _ in range(person.page.get_by_role("button", name=name).count()):
        press_first(person, name)


def somebody_comes_today(scene, person) -> None:
    """Though it may be one of the days on which nobody does."""
    bram = scene.register.one("SELECT id FROM workshop_person WHERE username = 'bram'")
    person.open(f"/people/{bram}/days")
    person.page.locator("summary", has_text="Another day").click()
    person.page.locator("#another").fill(str(date.today()))
    person.press("Comes")


def a_job_of_the_day(scene, person) -> str:
    somebody_comes_today(scene, person)
    person.open(f"/l/{LOCOMOTIVE}/day/{date.today()}/")
    plan = person.page.get_by_role("button", name="Propose a day sheet")
    if plan.count():
        plan.click()
    press_each(person, "Take the tick off")
    job = person.page.locator("article:has(button[value=done])").first
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
