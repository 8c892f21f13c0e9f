"""What each form is tried on, and how it is come to.

Every one takes a piece, a crate or a record that no form before it took, so that what is counted is its own.
"""

import re
from datetime import date

from tests.demo_copy import LOCOMOTIVE, Register
from tests.hands import Hands
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
IN_HAND = "SELECT component_id FROM parts_kitline WHERE kit_id = ? AND taken_at IS NOT NULL"
TICKED = """SELECT job.id FROM parts_dayjob job JOIN parts_daysheet sheet ON sheet.id = job.sheet_id
    WHERE sheet.date = ? AND job.done_at IS NOT NULL"""
TO_COLLECT = """SELECT tag.code FROM parts_kitline line JOIN parts_tag tag ON tag.component_id = line.component_id
    WHERE tag.current AND line.kit_id = ? ORDER BY line.id"""


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
    def begin(scene: Scene, hands: Hands) -> str:
        for _ in range(60):
            address = f"/t/{scene.free(sql)}/{ending}"
            if 'method="post"' in hands.get(address).main:  # with this one it can be done
                return address
        raise AssertionError(f"no piece is left for {ending}")

    return begin


def loose(scene, hands) -> str:
    return f"/strip/?loose=1#{scene.of_its_own()}"


def into_a_crate(scene, hands) -> str:
    hands.post("/put-away/", into=scene.register.one(PATH, scene.free(CRATES)))
    return f"/put-away/#{scene.free(LYING)}"


def counting(scene, hands) -> str:
    begun = hands.post("/stock-take/begin", into=scene.register.one(PATH, scene.free(CRATES)))
    return f"{begun.address}#{scene.free(LYING)}"


def a_survey(scene, hands) -> str:
    address = f"/boiler-parts/{scene.register.one(PLATE)}/survey"
    gauge = re.search(r'<select name="instrument".*?<option value="(\d+)"', hands.get(address).html, re.DOTALL)[1]
    head = {"down": 2, "across": 4, "opening": "10.0", "block": "10.0", "reader": "A", "writer": "B"}
    return hands.send(address, instrument=gauge, **head).address


def stays(scene, hands) -> str:
    wall = scene.register.one(
        "SELECT part_id FROM inspections_boilerrecord WHERE kind = 'stay map' ORDER BY id LIMIT 1"
    )
    return hands.send(f"/boiler-parts/{wall}/stay-map").address


def locking(scene, hands) -> str:
    """Step by step on the page on which a subassembly is put together."""
    address = at_piece(TO_LOCK, "do/lock?from=together")(scene, hands)
    return f"{address}#{scene.of_its_own()}"


def taken_off(hands, piece: str, reason: str) -> None:
    if 'name="reason"' in hands.get(f"{piece}/take-off").main:  # else it is off already
        hands.send(f"{piece}/take-off", reason=reason)


def refitting(scene, hands) -> str:
    """Few are ready: one is taken off again, and goes on once more."""
    if address := scene.last.get("refit"):
        taken_off(hands, address.removesuffix("/refit"), "Tried on only (invented).")
        if 'name="locked"' in hands.get(address).main:  # else its work was stopped meanwhile
            return f"{address}#{scene.of_its_own()}"
    scene.last["refit"] = at_piece(TO_REFIT, "do/refit")(scene, hands)
    return f"{scene.last['refit']}#{scene.of_its_own()}"


def closing(scene, hands) -> str:
    """What was closed is opened again: a piece comes off and goes on, and its inside is photographed once more."""
    if 'name="tools_in"' not in hands.get(f"{DRAWGEAR}/box-up").main:
        piece = f"/t/{scene.register.rows(SPRING)[0][0]}/do"
        taken_off(hands, piece, "To look behind it (invented).")
        hands.send(f"{piece}/refit", locked="split pin")
        hands.post(f"{DRAWGEAR}/photos", photos=a_photo())
    return f"{DRAWGEAR}/box-up"


def testing(sort: str):
    return lambda scene, hands: f"/boilers/1/test?sort={sort}+test"


def found_by_crack_check(scene, hands) -> str:
    """It can be decided again."""
    for _ in scene.register.rows(FOUND):
        address = f"/examinations/{scene.free(FOUND)}/decide"
        if 'name="reason"' in hands.get(address).main:
            return address
    raise AssertionError("nothing that was found can be decided")


def stopped(scene, hands) -> str:
    hands.send(at_piece(TO_STOP, "stop")(scene, hands), why="The sling is frayed (invented).")
    return f"/holds/{scene.register.one('SELECT max(id) FROM parts_holdpoint')}/lift"


def a_crate(scene, hands) -> str:
    return f"/where/{scene.free(CRATES)}/"


def a_job_of_the_day(scene, hands) -> str:
    """Somebody comes today, though it may be one of the days on which nobody does."""
    bram = scene.register.one("SELECT id FROM workshop_person WHERE username = 'bram'")
    sheet = f"/l/{LOCOMOTIVE}/day/{date.today()}/"
    hands.post("/days/say", person=bram, date=str(date.today()), coming="yes")
    if "Propose a day sheet" in hands.get(sheet).main:
        hands.post(f"{sheet}plan")
    for (job,) in scene.register.rows(TICKED, str(date.today())):
        hands.post(f"/day-jobs/{job}", do="not done")
    job = re.search(r'id="(job-\d+)"', hands.get(sheet).main)
    return f"{sheet}#{job[1]}"


def collecting(scene, hands) -> str:
    if not (address := scene.last.get("kit")):
        address = scene.last["kit"] = hands.send(f"/l/{LOCOMOTIVE}/s/brake-rigging/kit").address
    for (piece,) in scene.register.rows(IN_HAND, address.split("/")[2]):
        hands.post(f"{address}put-back", piece=piece)
    return f"{address}#{scene.register.rows(TO_COLLECT, address.split('/')[2])[0][0]}"
