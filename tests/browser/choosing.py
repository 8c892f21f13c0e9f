"""Pieces of the demo for a walk, chosen by what they are and not by what they are called."""

import json

from tests.demo_copy import LOCOMOTIVE, Register
from tests.running import manage

PIECE = """
    SELECT tag.code, sub.code FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    JOIN parts_subassembly sub ON sub.id = place.subassembly_id
    WHERE piece.state = ? AND piece.quantity = 1 AND piece.vouched_state = '' AND NOT piece.quarantined
      AND place.part_of_id IS NULL AND place.safety_critical AND place.matched = ''
      AND place.crack_check IN ('any', 'magnetic particle', 'penetrant') AND place.calls_for LIKE '%dimensional%'
      AND NOT EXISTS (SELECT 1 FROM inspections_examination look
                      WHERE look.component_id = piece.id AND look.result <> 'sound')
    ORDER BY piece.id"""


def waiting_subassemblies(register: Register) -> dict[str, list[str]]:
    """By code, what stands against each subassembly as a whole: `after`, `release`."""
    told = manage(register.folder, "readiness", LOCOMOTIVE, "--json", COTTER_DEMO="1")
    return {
        sub["code"]: [blocker["need"] for blocker in sub["blockers"] if blocker["position"] is None]
        for sub in json.loads(told.stdout)["subassemblies"]
    }


def piece_to_walk(register: Register, state: str) -> tuple[str, str]:
    """Its tag and its subassembly: safety-critical, to be crack-checked and measured, with nothing to wait for."""
    stands = waiting_subassemblies(register)
    return next((tag, sub) for tag, sub in register.rows(PIECE, state) if not stands[sub])


def stripped_pieces(register: Register) -> list[str]:
    """The tags of all that lie here and can be cleaned, whatever other tests moved or sent away; the last first."""
    found = register.rows(
        "SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current "
        "JOIN parts_location lies ON lies.id = piece.location_id AND NOT lies.away "
        "WHERE piece.state = 'stripped' AND NOT piece.quarantined ORDER BY piece.id DESC"
    )
    return [code for (code,) in found]
