"""What each way of mending asks before the work and after it. Common practice, no source."""

import pytest

from parts.domain.job_words import RepairMethod
from parts.domain.repair_methods import look_at_after, notes_on, table
from parts.domain.rows import Repair
from parts.domain.words import State
from tests.parts.domain.plain_cases import codes, good_case, with_form, with_piece
from tests.tables import for_each


def test_every_method_has_its_caution_and_what_to_look_at():
    assert set(table()) == set(RepairMethod)
    assert all(notes.caution.endswith(".") and notes.look_at[:1].islower() for notes in table().values())


@for_each(
    ("method", "cautioned", "looked_at"),
    [
        ("re-metal", "Molten white metal", "bond"),
        ("re-metal", "lead", "bore"),
        ("cold stitch", "goggles", "past both its ends"),
        ("re-rivet", "ear protection", "each rivet head"),
        ("retap oversize", "goggles", "thread by gauge"),
        ("anneal", "Hot copper looks cold", "pressure test"),
        ("re-leaf", "nobody in line", "load against camber"),
        ("sleeve", "stand clear", "fit"),
        ("metal spray", "dust", "bond"),
    ],
)
def test_the_methods_of_the_trade(method, cautioned, looked_at):
    notes = notes_on(method)
    assert cautioned in notes.caution
    assert looked_at in notes.look_at
    assert look_at_after(method).startswith(f"After “{method}” look at: ")


@pytest.mark.parametrize(
    ("method", "bond", "told"),
    [
        ("re-metal", "", ["bond"]),
        ("re-metal", "  ", ["bond"]),
        ("re-metal", "rings true, paraffin and chalk showed none loose, P. Fennimoor", []),
        ("bush", "", []),
    ],
)
def test_a_bearing_is_not_done_until_the_bond_of_its_metal_was_checked(method, bond, told):
    case = with_piece(good_case("finish repair", State.STRIPPED), repairs=(Repair(what="metal", method=method, id=4),))
    assert codes("finish repair", with_form(case, repair=4, more={"bond": bond})) == told
