"""What places are measured for, and which other looks gauges, valves, springs and pipes call for.

That journals, crank pins, tyres, flanges, side bearings and drawbars are measured: 49 CFR 230.90 to 230.113, by their
headings. The others, and that a gauge is calibrated and a spring tested: common practice, no source.
"""

import pytest

from inspections.domain.crack_methods import Magnetic, magnetic
from parts.domain.choices import CHOICES
from parts.domain.structure import LocomotiveSpec, plan
from parts.domain.templates import tables
from parts.domain.words import Kind, Method
from tests.parts.domain.structures import laid_out, named
from tests.tables import for_each

MADE = (
    {"wheels": "2-6-2T", "valve_gear": "Walschaerts"},
    {"wheels": "4-6-2", "british": False, "valve_gear": "Baker", "brake": "air", "superheated": True},
    {"wheels": "0-6-0ST", "inside_cylinders": 2, "safety_valves": "Ramsbottom", "steam_heating": True},
    {"wheels": "2-6-6-2", "british": False, "brake": "air"},
    {"wheels": "0-4-0VB"},
    {"wheels": "0-6-0F", "brake": "steam"},
    {"wheels": "Bo'Bo'", "brake": "air"},
)


@pytest.mark.parametrize("entered", MADE, ids=lambda entered: entered["wheels"])
def test_a_place_calls_for_measuring_where_a_dimension_of_it_is_named_and_nowhere_else(entered):
    found = plan(LocomotiveSpec(**entered)).positions
    assert any(place.dimensions for place in found)
    for place in found:
        assert (Kind.DIMENSIONAL in place.calls_for) is bool(place.dimensions), place.name


def test_the_tables_never_call_for_it_themselves():
    assert not [row.name for row in tables().positions if Kind.DIMENSIONAL in row.calls_for]


def test_the_dimensions_of_one_place_have_names_of_their_own():
    for place, dimensions in tables().dimensions.items():
        names = [dimension.name for dimension in dimensions]
        assert len(set(names)) == len(names), place


@for_each(
    ("place", "dimensions"),
    [
        ("axle", {"journal diameter, LH", "journal diameter, RH"}),  # 230.98
        ("tyre", {"tyre thickness", "flange thickness", "flange height"}),  # 230.112, 230.113
        ("wheelset", {"distance between the tyres", "tread diameter, LH", "tread diameter, RH"}),  # 230.112
        ("crank pin", {"pin diameter"}),  # 230.97
        ("axlebox brass", {"bore", "thickness at the crown"}),
        ("cylinder casting", {"bore"}),
        ("valve spindle", {"spindle diameter"}),
        ("slide bar", {"thickness"}),  # 230.95
        ("main frame plate", set()),
        ("chimney", set()),
    ],
)
def test_the_dimensions_that_matter_are_named(place, dimensions):
    assert {dimension.name for dimension in named(laid_out(), place)[0].dimensions} == dimensions


def test_a_journal_is_measured_along_it_and_across_it():
    (diameter, _) = named(laid_out(), "axle")[0].dimensions
    assert (diameter.wears, diameter.round_part) == ("smaller", True)
    assert (diameter.stations, diameter.directions) == (
        ("inner end", "middle", "outer end"),
        ("vertical", "horizontal"),
    )


def test_american_words_are_used_for_dimensions_too():
    tire = named(laid_out(british=False), "tire")[0]
    assert "tire thickness" in {dimension.name for dimension in tire.dimensions}


@for_each(
    ("place", "kind"),
    [
        ("pressure gauge", Kind.CALIBRATION),
        ("vacuum gauge", Kind.CALIBRATION),
        ("safety valve", Kind.SET_PRESSURE),
        ("cylinder relief valve", Kind.SET_PRESSURE),
        ("bearing spring", Kind.SPRING_TEST),
        ("buffer spring", Kind.SPRING_TEST),
        ("cylinder casting", Kind.PRESSURE_TEST),
        ("injector delivery pipe", Kind.PRESSURE_TEST),
        ("barrel plate", Kind.THICKNESS),
    ],
)
def test_each_is_looked_at_in_its_own_way(place, kind):
    assert all(kind in found.calls_for for found in named(laid_out(), place))


SPRINGS = {"bearing spring", "safety valve spring", "buffer spring", "draw hook spring", "truck bearing spring"}


def test_no_spring_and_no_gauge_calls_for_a_figure_of_another_kind():
    for place in laid_out("2-6-2T").positions:
        if place.name in SPRINGS or place.name.endswith(" gauge") and "contents" not in place.name:
            assert Kind.DIMENSIONAL not in place.calls_for, place.name


SAFETY_CRITICAL = {
    "Walschaerts": {"expansion link", "radius rod", "combination lever", "union link", "eccentric rod"},
    "Stephenson": {"fore-gear eccentric rod", "lifting link", "expansion link"},
    "Joy": {"jack link", "anchor link", "valve lever"},
    "Baker": {"bell crank", "gear connecting rod", "radius bar", "reverse yoke"},
}


@pytest.mark.parametrize("gear", SAFETY_CRITICAL)
def test_what_would_dig_in_lock_the_wheels_or_leave_the_driver_without_reverse_is_safety_critical(gear):
    """Common practice, no source."""
    for name in SAFETY_CRITICAL[gear]:
        assert all(place.safety_critical for place in named(laid_out(valve_gear=gear), name)), name


def test_what_holds_or_guards_what_is_safety_critical_is_it_too():
    """Common practice, no source."""
    names = {"reach rod", "weighshaft", "reversing lever", "valve spindle", "cylinder cover", "tank mounting bracket"}
    names |= {"guard iron", "buffer head and ram", "axlebox keep", "spring hanger pins", "wheel key"}
    found = laid_out()
    for name in names:
        assert named(found, name), name
        assert all(place.safety_critical for place in named(found, name)), name


@pytest.mark.parametrize("entered", MADE, ids=lambda entered: entered["wheels"])
def test_no_crack_check_is_called_for_that_the_metal_does_not_allow(entered):
    """Magnetic particle needs a ferromagnetic piece: ISO 9934-1, scope."""
    for place in plan(LocomotiveSpec(**entered)).positions:
        if magnetic(place.material) is Magnetic.NO:
            assert place.crack_check in ("", Method.PENETRANT, Method.ULTRASONIC), (place.name, place.material)


def test_no_place_is_of_two_metals_that_a_choice_tells_apart():
    for firebox in CHOICES["firebox"].words:
        found = laid_out(firebox=firebox)
        plates = named(found, "inner firebox wrapper plate") + named(found, "firebox tubeplate")
        assert {magnetic(plate.material) for plate in plates} == {
            Magnetic.NO if firebox.startswith("copper") else Magnetic.YES
        }
