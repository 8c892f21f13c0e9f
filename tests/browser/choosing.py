"""Pieces of the demo for a walk, chosen by what they are and not by what they are called."""

import re

from tests.browser.watching import elsewhere
from tests.demo_copy import Register

PIECE = """
    SELECT tag.code, sub.code FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    JOIN parts_position place ON place.id = piece.place_id
    JOIN parts_subassembly sub ON sub.id = place.subassembly_id
    WHERE piece.state = 'accepted' AND piece.quantity = 1 AND piece.vouched_state = '' AND NOT piece.quarantined
      AND place.part_of_id IS NULL AND place.safety_critical AND place.matched = ''
      AND place.crack_check IN ('any', 'magnetic particle', 'penetrant') AND place.calls_for LIKE '%dimensional%'
      AND NOT EXISTS (SELECT 1 FROM inspections_examination look
                      WHERE look.component_id = piece.id AND look.result <> 'sound')
    ORDER BY piece.id"""


def piece_to_walk(register: Register) -> tuple[str, str]:
    """The tag and the subassembly of an accepted piece, safety-critical, to be crack-checked and measured. It waits for
    nothing: its page says first of all to refit it."""
    fitter = elsewhere(register.address, "bram")
    for tag, subassembly in register.rows(PIECE):
        if re.search(r'button-first" href="[^"]*/do/refit', fitter.get(f"/t/{tag}").main):
            return tag, subassembly
    raise AssertionError("none is ready")


def stripped_pieces(register: Register) -> list[str]:
    """The tags of all that lie here and can be cleaned, whatever other tests moved or sent away; the last first."""
    found = register.rows(
        "SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current "
        "JOIN parts_location lies ON lies.id = piece.location_id AND NOT lies.away "
        "WHERE piece.state = 'stripped' AND NOT piece.quarantined ORDER BY piece.id DESC"
    )
    return [code for (code,) in found]
