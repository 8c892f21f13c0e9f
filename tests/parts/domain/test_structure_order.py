"""The order of assembly that erectors use.

Pages are those of Ahrons, Steam Locomotive Construction and Maintenance (1921); what names none is common practice, no
source.
"""

import networkx as nx
import pytest

from parts.domain.hold_templates import templates
from tests.parts.domain.structures import laid_out, named, order_graph
from tests.tables import for_each


def test_a_well_tank_goes_in_before_the_boiler_and_side_tanks_after_the_cladding():
    after = {sub.code: sub.goes_on_after for sub in laid_out("0-6-0WT").subassemblies}
    assert "well-tank" in after["boiler-seating"]
    assert "cladding" in {s.code: s.goes_on_after for s in laid_out("0-6-0T").subassemblies}["tanks"]


def test_a_horn_stay_goes_on_after_the_wheelsets_though_the_wheelsets_go_on_after_the_horns():
    found = laid_out()
    assert {stay.goes_on_after for stay in named(found, "horn stay")} == {("wheelsets", "axleboxes")}
    assert "horns" in next(sub.goes_on_after for sub in found.subassemblies if sub.code == "wheelsets")


@for_each(
    ("before", "after"),
    [
        ("main-frames", "wheelsets"),
        ("horns", "axleboxes"),
        ("wheelsets", "coupling-rods"),
        ("slide-bars-outside", "pistons-outside"),
        ("pistons-outside", "crossheads-outside"),
        ("boiler", "boiler-seating"),
        ("saddle", "boiler-seating"),
        ("cylinders-outside", "connecting-rods-outside"),
        ("coupling-rods", "connecting-rods-outside"),
        ("main-frames", "boiler-seating"),
        ("boiler", "cladding"),
        ("boiler", "cab"),
        ("cladding", "tanks"),
        ("inner-firebox", "boiler-stays"),
    ],
)
def test_the_order_of_assembly_is_the_trades(before, after):
    assert nx.has_path(order_graph(laid_out()), ("on", before), ("start", after))


@for_each(
    ("entered", "does_not_wait", "page"),
    [
        ({}, ("slide-bars-outside", "pistons-outside"), "86: the bars are set to the wires, then the pistons go in"),
        ({}, ("reversing-gear", "valve-gear-outside"), "the gear hangs from the weighshaft"),
        ({}, ("saddle", "boiler"), "88: the boiler is lowered on to what is there"),
        ({}, ("axleboxes", "wheelsets"), "91: the boxes are put on the journals as the engine is lowered"),
        ({}, ("wheelsets", "axleboxes"), "91"),
        ({}, ("platework", "wheelsets"), "86 and 90: the platforms are riveted on, and the engine is wheeled last"),
        ({"springs": "overhung"}, ("spring-gear", "wheelsets"), "91: overhung springs are there before"),
        ({"springs": "underhung"}, ("wheelsets", "spring-gear"), "91: underhung ones are put in after"),
        ({}, ("power-brake", "cab"), "the brake cylinder hangs under the frames"),
        ({}, ("cylinder-cocks", "cab"), "the cocks are on the cylinders"),
        ({}, ("lubrication", "cladding"), "the oil pipes lie under the cladding"),
        ({}, ("boiler-seating", "boiler-mountings"), "88: either may come first"),
    ],
)
def test_nothing_waits_for_what_comes_after_it_in_the_erecting_shop(entered, does_not_wait, page):
    """The pages are those of Ahrons; those without one: common practice, no source."""
    later, earlier = does_not_wait
    assert not nx.has_path(order_graph(laid_out(**entered)), ("on", earlier), ("start", later)), page


@pytest.mark.parametrize(
    ("entered", "goes_on_after"),
    [
        ({"springs": "overhung"}, ("spring-gear", "wheelsets")),
        ({"springs": "overhung"}, ("spring-gear", "axleboxes")),
        ({"springs": "underhung"}, ("wheelsets", "spring-gear")),
        ({"british": False}, ("spring-gear", "wheelsets")),  # overhung is usual there
    ],
)
def test_overhung_springs_go_in_before_wheeling_and_underhung_ones_after(entered, goes_on_after):
    """Ahrons (1921), page 91."""
    before, after = goes_on_after
    assert nx.has_path(order_graph(laid_out(**entered)), ("on", before), ("start", after))


@for_each(
    ("name", "after"),
    [
        ("brake block", "wheelsets"),
        ("brake hanger", ""),
        ("fore-gear eccentric strap half", "wheelsets"),  # Ahrons page 91
        ("expansion link", ""),
        ("lifting link", "reversing-gear"),
        ("reach rod", "cab"),
        ("weighshaft", ""),
        ("sand pipe", "wheelsets"),
        ("ejector", "cab"),
        ("vacuum brake cylinder", ""),
        ("cylinder cock operating rod", "cab"),
    ],
)
def test_a_place_has_an_order_of_its_own_where_that_of_its_subassembly_is_too_coarse(name, after):
    places = named(laid_out(), name)
    assert places
    assert {place.goes_on_after for place in places} == {(after,) if after else ()}


def test_what_the_boiler_hides_is_warned_of_where_it_is_worked_on():
    """Common practice, no source: what lies between the frames under the barrel cannot be reached afterwards."""
    found = laid_out(inside_cylinders=2, outside_cylinders=0)
    hidden = {place.name: place for place in found.positions if "boiler-seating" in place.out_of_reach_under}
    assert {"motion plate", "weighshaft", "slide bar", "expansion link", "vacuum train pipe"} <= set(hidden)
    assert "Out of reach once “Boiler in the frames” is done" in hidden["weighshaft"].caution
    outside = {place.name for place in laid_out().positions if "boiler-seating" in place.out_of_reach_under}
    assert "weighshaft" in outside
    assert not {"slide bar", "expansion link"} & outside


def test_a_boiler_may_be_steamed_on_its_stand_before_it_is_landed():
    """Ahrons, page 26: the steam test is made in the boiler shop, before the boiler goes to the erecting shop."""
    lines = {line.name: line for line in templates()["pressure vessel"].lines}
    on_its_stand = lines["Steam test out of the frames"]
    assert (on_its_stand.on, on_its_stand.stops, on_its_stand.lapses) == ("after", ("refit",), True)
    assert lines["Steam test"].stops == ("close the overhaul",)
