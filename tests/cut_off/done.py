"""How often the register says that a form was done, by the address that its scene gave."""

import json

EVENTS_OF = """SELECT count(*) FROM parts_event JOIN core_eventsubject subject ON subject.event_id = parts_event.id
    WHERE action = ? AND kind = 'piece' AND number = (SELECT component_id FROM parts_tag WHERE code = ?)"""


def code_of(address: str) -> str:
    return address.split("/")[2]


def events(word: str):
    return lambda register, address: register.one(EVENTS_OF, word, code_of(address))


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


def boxed_up(register, address):
    return register.one("SELECT count(*) FROM inspections_boxingup")


def tests_of_boiler(register, address):
    return register.one(
        "SELECT count(*) FROM inspections_boilerrecord WHERE boiler_id = 1 AND title = ?",
        address.split("=")[1].replace("+", " "),
    )


def decided_of_what_was_found(register, address):
    return register.one(
        "SELECT count(DISTINCT decided_at) FROM inspections_findingdecision WHERE examination_id = ?",
        address.split("/")[2],
    )


def lifted(register, address):
    return register.one("SELECT released_on IS NOT NULL FROM parts_holdpoint WHERE id = ?", address.split("/")[2])


def carried(register, address):
    return register.one("SELECT count(*) FROM parts_movement WHERE crate_id = ?", address.split("/")[2])


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
