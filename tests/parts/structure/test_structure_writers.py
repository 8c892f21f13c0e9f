"""Subassemblies, places and the order of assembly: by the works manager; what has history is retired, never lost."""

import pytest

from parts.domain.words import State
from parts.models import Position, Subassembly
from parts.structure.writers import structure
from parts.structure.writers.rearranging import edit_subassembly
from tests.factories import events_of, fresh
from tests.parts.actions.standard import refused, standing


def sub(works, name, **entered):
    return structure.add_subassembly(works.locomotive, name, works.people.manager, **entered)


def test_a_subassembly_is_added_with_a_code_of_its_own(works):
    left = sub(works, "  Left   side ", parent=works.frames)
    again = sub(works, "Left side")
    assert (left.name, left.code, again.code) == ("Left side", "left-side", "left-side-2")


@pytest.mark.parametrize("name", ["", "  ", "frames", "FRAMES"])
def test_one_without_a_name_or_with_a_name_that_is_there_is_refused(works, name):
    with refused("name"):
        sub(works, name)


@pytest.mark.engine
def test_only_an_empty_one_is_taken_away(works):
    motion = sub(works, "Motion")
    place = works.place(name="slide bar", subassembly=motion)
    with refused("not-empty"):
        structure.remove_subassembly(motion, works.people.manager)
    works.take_away(place)
    structure.remove_subassembly(motion, works.people.manager)
    assert fresh(motion).retired


def test_its_code_stays_when_it_is_renamed(works):
    edit_subassembly(works.frames, works.people.manager, name="Main frames")
    assert (fresh(works.frames).name, works.frames.code) == ("Main frames", "frames")


def test_an_order_that_makes_a_loop_is_refused_and_the_loop_named(works):
    wheels = sub(works, "Wheelsets", after=[works.frames])
    motion = sub(works, "Motion", after=[wheels])
    with refused("loop") as caught:
        structure.set_order(works.frames, [motion], works.people.manager)
    for name in ("Frames", "Wheelsets", "Motion"):
        assert name in str(caught.value)
    with refused("order"):
        structure.set_order(works.frames, [works.frames], works.people.manager)


def test_a_part_does_not_go_on_after_what_it_is_part_of(works):
    with refused("loop"):
        sub(works, "Horns", parent=works.frames, after=[works.frames])
    assert not Subassembly.objects.filter(name="Horns").exists()


def test_a_place_is_known_once_by_its_words(works):
    works.place(name="horn guide", side="LH", axle="leading")
    with refused("position"):
        works.place(name="Horn  Guide", side="LH", axle="Leading")
    works.place(name="horn guide", side="RH", axle="leading")


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"name": " "}, "name"),
        ({"side": "left"}, "side"),
        ({"crack_check": "dowsing"}, "crack_check"),
        ({"calls_for": ["smell"]}, "calls_for"),
        ({"quantity": 0}, "quantity"),
    ],
)
def test_each_bad_answer_is_refused_by_name_when_added_and_when_edited(works, fields, code):
    place = works.place(name="stay")
    with refused(code):
        works.place(**{"name": "bracket"} | fields)
    with refused(code):
        structure.edit_position(place, works.people.manager, **fields)


def test_a_place_inside_a_piece_is_in_the_same_subassembly(works):
    outer, motion = works.place(name="axlebox"), sub(works, "Motion")
    with refused("part_of"):
        works.place(name="brass", subassembly=motion, part_of=outer)


def test_an_edit_keeps_what_was_said_before(works):
    place = works.place(name="stay", drawing="112")
    structure.edit_position(place, works.people.manager, drawing="112A", material="steel")
    told = events_of(place).latest("pk")
    assert told.data == {"drawing": ["112", "112A"], "material": ["", "steel"]}


def test_a_place_takes_no_fewer_than_are_in_it(works):
    piece = works.piece(State.STRIPPED, place=works.plain_place(quantity=3))
    with refused("quantity"):
        structure.edit_position(piece.place, works.people.manager, quantity=2)
    structure.edit_position(fresh(piece.place), works.people.manager, quantity=4)
    assert standing(piece.place) == ("blocked", "strip")


def test_a_place_where_nothing_ever_happened_is_deleted_and_one_with_history_is_retired(works):
    never = Position.objects.create(locomotive=works.locomotive, subassembly=works.frames, name="never used")
    once = works.piece(State.WITHDRAWN).place
    assert structure.remove_position(never, works.people.manager) == "deleted"
    assert structure.remove_position(once, works.people.manager) == "retired"
    assert fresh(once).retired


@pytest.mark.parametrize("state", [State.IN_PLACE, State.CLEANED, State.REFITTED, State.IN_THE_MAKING])
def test_a_place_with_a_piece_in_it_or_in_the_making_stays(works, state):
    place = works.piece(state).place
    with refused("in-use"):
        structure.remove_position(place, works.people.manager)


def test_so_does_one_with_places_of_its_own(works):
    outer = works.built_up()
    with refused("in-use"):
        structure.remove_position(outer, works.people.manager)


def test_taking_away_the_last_open_place_inside_a_piece_makes_it_ready(works):
    outer, brass = works.a_broken_down_piece("brass", "keep")
    works.bring_on(brass, State.REFITTED)
    keep = outer.place.inner.get(name="keep")
    works.withdraw(keep.pieces.get())
    works.examine(outer)
    with refused("inner-open"):
        works.accept(outer)
    works.take_away(keep)
    works.accept(outer)
    assert standing(outer.place) == ("ready", "")


def test_known_empty_wants_evidence_and_an_empty_place(works):
    place, filled = works.place(), works.piece().place
    with refused("evidence"):
        structure.set_known_empty(place, works.people.engineer, " ")
    with refused("filled"):
        structure.set_known_empty(filled, works.people.engineer, "looked")
    structure.set_known_empty(place, works.people.engineer, "two holes and a clean patch")
    assert standing(place) == ("blocked", "source")
    assert place.known_empty_by == works.people.engineer


@pytest.mark.parametrize("person", ["volunteer", "storekeeper", "fitter", "examiner", "engineer", "trustee"])
def test_others_change_no_structure(works, person):
    actor, place = getattr(works.people, person), works.place()
    for deed in (
        lambda: structure.add_subassembly(works.locomotive, "Motion", actor),
        lambda: edit_subassembly(works.frames, actor, name="Main frames"),
        lambda: structure.remove_subassembly(works.frames, actor),
        lambda: structure.set_order(works.frames, [], actor),
        lambda: structure.add_position(works.frames, actor, name="stay"),
        lambda: structure.edit_position(place, actor, name="stay"),
        lambda: structure.remove_position(place, actor),
    ):
        with refused("role"):
            deed()


def test_a_place_added_inside_a_piece_in_pieces_is_open_in_it(works):
    outer, brass = works.a_broken_down_piece("brass")
    works.bring_on(brass, State.REFITTED)
    works.bring_on(outer, State.ACCEPTED)
    works.place(name="keep", part_of=outer.place)
    assert standing(outer.place) == ("blocked", "after")
    works.do("send back", outer, works.people.fitter, reason="a keep was found to belong", to=State.CLEANED)
