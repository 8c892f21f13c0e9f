"""Which caution stands before which action on what: by hand, common practice, no source."""

import pytest

from parts.actions.clean import METHODS
from parts.domain import cautions
from parts.domain.cautions import before, caution_of_cleaning, caution_of_look, table
from parts.domain.rows import Place
from parts.domain.states import piece_action, piece_actions
from parts.domain.words import Kind, Method, State
from tests.parts.domain.plain_cases import good_case, with_piece
from tests.tables import for_each

WORK = ("strip", "break down", "clean", "refit")


def subjects(word: str, group: str, name: str, material: str = "") -> list[str]:
    place = Place(id=1, subassembly=1, group=group, name=name, material=material)
    by_text = {row.text: row.subject for row in table()}
    return [by_text[text] for text in before(word, place, None)]


def caution_of(word: str, **facts) -> str:
    case = good_case(word, State.CLEANED)
    return " ".join(piece_action(word).caution_for(with_piece(case, **facts)))


@for_each(
    ("word", "group", "name", "first"),
    [
        ("strip", "cladding", "barrel lagging", "asbestos"),
        ("clean", "cladding", "firebox cladding sheet", "asbestos"),
        ("strip", "cylinders", "cylinder cover", "asbestos"),
        ("strip", "pistons", "piston rod gland", "asbestos"),
        ("strip", "brake-rigging", "brake block", "asbestos"),
        ("break down", "firebox-fittings", "firehole door", "asbestos"),
        ("clean", "cab", "cab side sheet", "lead"),
        ("clean", "firebox-fittings", "brick arch", "confined space"),
        ("clean", "sanding", "sandbox", "silica"),
        ("strip", "boiler-shell", "barrel plate", "steam"),
        ("refit", "boiler-tubes", "small tubes", "confined space"),
        ("clean", "smokebox", "smokebox netting", "confined space"),
        ("clean", "tanks", "side tank", "confined space"),
        ("strip", "spring-gear", "bearing spring", "spring"),
        ("refit", "buffing-drawgear", "buffer head and ram", "spring"),
        ("strip", "boiler-mountings", "clack box", "steam"),
        ("strip", "power-brake", "vacuum brake cylinder", "vacuum"),
        ("break down", "wheelset-leading", "tyre", "tyre heating"),
        ("finish repair", "axleboxes", "axlebox brass", "white metal"),
        ("finish repair", "motion", "radius rod", "hot work"),
        ("strip", "boiler-stays", "crown stays", "confined space"),
    ],
)
def test_what_matters_most_comes_first(word, group, name, first):
    assert subjects(word, group, name)[0] == first


@pytest.mark.parametrize(
    ("word", "group", "name", "among"),
    [
        ("clean", "valve-gear", "radius rod", ["harm for life", "caustic", "noise"]),
        ("strip", "boiler-stays", "crown stays", ["hot work", "noise"]),
        ("break down", "wheelset-leading", "tyre", ["lifting"]),
        ("strip", "firebox-fittings", "brick arch", ["silica", "confined space"]),
    ],
)
def test_the_rest_stands_behind(word, group, name, among):
    assert set(among) <= set(subjects(word, group, name))


@pytest.mark.parametrize(
    ("group", "name", "heavy"),
    [
        ("coupling-rods", "coupling rod", True),
        ("coupling-rods", "coupling rod bush", False),
        ("wheelsets", "wheelset", True),
        ("boiler-seating", "boiler holding-down bolts", False),
        ("finishing", "number plate", False),
        ("cylinders", "cylinder castings", True),
    ],
)
def test_only_what_is_heavy_is_slung(group, name, heavy):
    for word in ("strip", "refit"):
        assert ("lifting" in subjects(word, group, name)) is heavy


@pytest.mark.parametrize(("mass_kg", "slung"), [(24.9, False), (25.0, True), (25.1, True), (0.0, True)])
def test_a_known_mass_decides_from_25_kg(mass_kg, slung):
    """HSE INDG143, lifting close to the body at knuckle height: 25 kg, from memory. Of an axlebox nobody weighed (0) it
    is taken that it is heavier."""
    assert ("keep out from under" in caution_of("strip", mass_kg=mass_kg)) is slung


def test_a_plain_pin_needs_no_caution_to_come_off_or_go_on():
    assert subjects("strip", "valve-gear", "die block pin") == subjects("refit", "valve-gear", "die block pin") == []


def test_a_refit_never_speaks_of_the_last_fastening():
    refits = [row.text for row in table() if not {"refit", "offer up"}.isdisjoint(row.actions)]
    assert len(refits) > 3
    assert not [text for text in refits if "last fastening" in text]


def test_every_row_is_for_an_action_of_the_catalogue_and_every_action_of_work_has_some():
    words = {action.word for action in piece_actions()}
    assert {word for row in table() for word in row.actions} <= words
    assert all(any(word in row.actions for row in table()) for word in WORK)


def test_an_action_says_what_the_table_has_for_it():
    """Of something heavy, so that each that has to do with lifting has a caution."""
    words = {word for row in table() for word in row.actions} & {action.word for action in piece_actions()}
    for word in words:
        case = with_piece(good_case(word, State.CLEANED), mass_kg=500.0)
        told = before(word, case.place, case.piece)
        assert set(told) <= set(piece_action(word).caution_for(case)), word
    assert {"strip", "refit", "take off", "offer up"} <= words


def test_the_caution_of_the_place_comes_first_and_is_not_said_twice():
    own = "This lagging holds asbestos: report 26/4."
    place = Place(
        id=1, subassembly=1, group="cladding", name="barrel lagging", caution=own, group_caution="Old asbestos."
    )
    found = before("strip", place, None)
    assert found[0] == own
    assert len([text for text in found if "asbestos" in text]) == 1


def test_what_its_subassembly_says_stands_behind():
    place = Place(id=1, subassembly=1, group="own-group", name="thing", group_caution="Mind the step.")
    assert before("strip", place, None) == ("Mind the step.",)


@pytest.mark.parametrize("action", ["accept", "withdraw", "send back"], ids=str)
def test_what_is_done_at_the_desk_needs_none(action):
    assert caution_of(action) == ""


def test_a_cracked_piece_is_marked_when_it_goes_and_is_not_trusted_when_it_goes_up():
    assert caution_of("withdraw", cracked=True) == cautions.CRACKED
    assert caution_of("offer up", cracked=True).startswith(cautions.CRACKED_TRIAL)


def test_a_pressure_test_is_made_with_cold_water_and_a_crack_check_with_chemicals():
    assert caution_of_look(Kind.HYDRAULIC_TEST) == cautions.HYDRAULIC
    assert "cold water" in cautions.HYDRAULIC
    assert "nobody stands near" in cautions.HYDRAULIC
    assert before(Kind.PRESSURE_TEST, None, None) == (cautions.HYDRAULIC,)
    assert caution_of_look(Kind.CRACK_CHECK) == caution_of_look(Kind.VISUAL, Method.PENETRANT) == cautions.CHEMICALS
    assert caution_of_look(Kind.VISUAL) == ""


@for_each(
    ("way", "sentence"),
    [
        ("blasted", "Blasting dust"),
        ("Sand-blasted", "Blasting dust"),
        ("scraped and wire-brushed", "Blasting dust"),
        ("needle gun", "Needle guns"),
        ("caustic soda", "Caustic burns"),
        ("hot wash", "Caustic burns"),
        ("paraffin and brush", "solvents burn"),
        ("degreasing solvent", "solvents burn"),
        ("steam", "scald"),
    ],
)
def test_a_way_of_cleaning_that_can_hurt_says_its_caution_where_it_is_chosen(way, sentence):
    assert sentence in caution_of_cleaning(way)


def test_every_way_that_is_offered_for_one_tap_says_what_it_can_do():
    assert all(caution_of_cleaning(way) for way in METHODS)
    assert caution_of_cleaning("dry cloth") == ""
