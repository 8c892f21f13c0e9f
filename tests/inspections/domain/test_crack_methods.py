"""Method against material. Which metals are ferromagnetic is common practice, no source."""

import pytest

from inspections.domain.crack_checks import proposes, weld_repair_checks
from inspections.domain.crack_methods import Magnetic, magnetic
from tests.tables import for_each


@for_each(
    ("material", "answer"),
    [
        ("steel", "yes"),
        ("Cast Iron", "yes"),
        ("wrought  iron", "yes"),
        ("carbon-manganese steel", "yes"),
        ("ferritic stainless steel", "yes"),
        ("silver steel", "yes"),
        ("431 stainless", "yes"),
        ("bronze", "no"),
        ("Phosphor bronze", "no"),
        ("manganese bronze", "no"),
        ("brass", "no"),
        ("gunmetal", "no"),
        ("gun-metal", "no"),
        ("copper", "no"),
        ("white metal", "no"),
        ("aluminium", "no"),
        ("aluminum", "no"),
        ("austenitic stainless steel", "no"),
        ("stainless steel 316L", "no"),
        ("304 steel", "no"),
        ("steel 304L", "no"),
        ("316", "no"),
        ("AISI 316 stainless steel", "no"),
        ("316Ti", "no"),
        ("EN 58", "no"),
        ("En58J", "no"),
        ("X5CrNi18-10", "no"),
        ("steel X2CrNiMo17-12-2", "no"),
        ("18/8", "no"),
        ("18-8 stainless steel", "no"),
        ("EN 24 steel", "yes"),
        ("430 stainless steel", "yes"),
        ("steel 1304", "yes"),
        ("steel, 310 mm long", "yes"),
        ("steel X17CrNi16-2", "yes"),
        ("steel EN 58", "no"),
        ("nickel silver", "no"),
        ("non-ferrous", "no"),
        ("high-manganese steel", "no"),
        ("steel, white-metalled", "both"),
        ("cast iron with a bronze bush", "both"),
        ("stainless steel", "unknown"),
        ("manganese steel", "unknown"),
        ("EN8", "unknown"),
        ("ironwood", "unknown"),
        ("", "unknown"),
    ],
)
def test_what_a_magnet_holds(material, answer):
    assert magnetic(material) == Magnetic(answer)


def codes(*args):
    return [proposal.code for proposal in proposes(*args)]


@pytest.mark.parametrize(
    ("material", "expected"),
    [("steel", []), ("gunmetal", ["not-magnetic"]), ("", ["material-unknown"]), ("steel and brass", ["part-magnetic"])],
)
def test_magnetic_particle_against_a_material(material, expected):
    assert codes("magnetic particle", material, False) == expected


@pytest.mark.parametrize("method", ["penetrant", "ultrasonic"])
def test_other_methods_do_not_mind_the_material(method):
    assert codes(method, "bronze", False) == []


def test_what_cannot_be_seen_is_for_ultrasonics():
    assert codes("penetrant", "steel", True) == ["hidden"]
    assert codes("magnetic particle", "bronze", True) == ["hidden", "not-magnetic"]
    assert codes("ultrasonic", "steel", True) == []


@pytest.mark.parametrize("method", ["", "any"])
def test_with_no_method_one_is_proposed(method):
    assert codes(method, "steel", False) == ["magnetic particle"]
    assert codes(method, "brass", False) == ["penetrant"]
    assert codes(method, "steel", True) == ["ultrasonic", "magnetic particle"]
    assert codes(method, "", False) == ["material-unknown"]


def test_the_sentences_say_what_is_known():
    (proposal,) = proposes("magnetic particle", "phosphor bronze")
    assert proposal.sentence.startswith("Magnetic particle needs a ferromagnetic piece, and phosphor bronze is not")
    (proposal,) = proposes("magnetic particle", "  ")
    assert proposal.sentence.startswith("No material is given: try a magnet.")


def test_a_weld_repair_is_checked_before_and_after_and_again():
    """Common practice, no source."""
    assert [check.code for check in weld_repair_checks()] == ["excavation", "finished weld"]
    again = [check.code for check in weld_repair_checks(["final machining", "stress relief"])]
    assert again == ["excavation", "finished weld", "after stress relief", "after final machining"]
    assert [check.code for check in weld_repair_checks("stress relief")][2:] == ["after stress relief"]
    assert "after the wait" in weld_repair_checks()[1].sentence


def test_another_word_is_refused():
    with pytest.raises(ValueError, match="stress relief or final machining"):
        weld_repair_checks(["painting"])
