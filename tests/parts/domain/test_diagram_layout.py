"""Where axles and body stand. Proportions are common practice, no source, so what is checked is what must hold."""

import pytest

from parts.domain.diagram.arrangement import read
from parts.domain.diagram.drawings import silhouette
from parts.domain.diagram.engine import Engine
from parts.domain.diagram.picture import picture
from parts.domain.diagram.proportions import loading_height
from tests.parts.domain.diagram_engines import ENGINES
from tests.tables import for_each

every = for_each("engine", ENGINES)
TOUCH = 1e-6


def layout_of(engine):
    return picture(engine).layout


@every
def test_as_many_axles_as_the_arrangement_says(engine):
    layout, wheels = layout_of(engine), read(engine.wheels)
    tender = engine.tender_axles if wheels.has_tender else 0
    assert len(layout.axles) == wheels.axles + tender
    assert [sum(axle.driven for axle in unit.axles) for unit in layout.units] == [1] * len(wheels.groups)


@every
def test_wheels_stand_on_the_rail_beside_each_other(engine):
    layout = layout_of(engine)
    for before, after in zip(layout.axles, layout.axles[1:], strict=False):
        assert after.x - before.x >= before.radius + after.radius, (before, after)
    treads = [shape.wheels.treads.box()[1] for shape in picture(engine).shapes.values() if shape.wheels]
    assert max(map(abs, treads)) < TOUCH


@every
def test_driving_wheels_are_larger_than_carrying_wheels(engine):
    found = layout_of(engine).axles
    driving = {axle.diameter for axle in found if axle.group == "coupled"}
    carrying = [axle.diameter for axle in found if axle.group in ("leading", "trailing")]
    assert len(driving) == 1
    assert all(size < min(driving) for size in carrying)


@every
def test_nothing_is_below_the_rail_and_everything_within_the_loading_height(engine):
    left, bottom, right, top = picture(engine).box()
    assert bottom > -TOUCH
    assert top <= loading_height(engine.gauge_mm)
    assert right - left > 2 * top * 0.7


@every
def test_wheels_stand_between_the_beams(engine):
    layout = layout_of(engine)
    assert layout.body.beams[0] < layout.axles[0].x - layout.axles[0].radius
    assert layout.axles[-1].x + layout.axles[-1].radius < layout.rear


@every
def test_the_chimney_stands_on_the_smokebox_before_dome_and_cab(engine):
    body = layout_of(engine).body
    assert body.chimney_x < body.cab[1]
    if not layout_of(engine).wheels.vertical:
        assert body.smokebox[0] < body.chimney_x < body.smokebox[1] < body.firebox[0] <= body.cab[0] < body.cab[1]


def test_what_is_known_goes_before_what_is_usual():
    known = Engine(wheels="2-6-2T", driving_mm=1000, leading_mm=600, trailing_mm=650)
    assert [axle.diameter for axle in layout_of(known).axles] == [600, 1000, 1000, 1000, 650]


def test_carrying_wheels_stay_smaller_beside_small_driving_wheels():
    for driving in (450, 700, 1100):
        leading, *coupled, trailing = layout_of(Engine(wheels="2-6-2T", driving_mm=driving)).axles
        assert {axle.diameter for axle in coupled} == {driving}
        assert max(leading.diameter, trailing.diameter) < driving


def test_a_narrower_gauge_has_a_smaller_locomotive():
    lengths = [layout_of(Engine(wheels="0-6-0T", gauge_mm=gauge)).rear for gauge in (381, 610, 1000, 1435, 1676)]
    assert lengths == sorted(lengths)
    assert len(set(lengths)) == 5


def test_loading_height_of_two_gauges():
    """From memory: about 3.96 m (13 ft) on British lines of standard gauge, about 3.4 m on many of metre gauge."""
    assert loading_height(1435) == pytest.approx(3960, abs=100)
    assert loading_height(1000) == pytest.approx(3400, abs=200)


def test_every_arrangement_has_a_silhouette_of_its_own():
    assert len({silhouette(engine) for engine in ENGINES}) == len(ENGINES)


def test_tanks_make_different_locomotives_of_the_same_wheels():
    wheels = ["0-6-0", "0-6-0T", "0-6-0ST", "0-6-0PT", "0-6-0WT", "0-6-0F", "0-6-0VBT"]
    assert len({silhouette(Engine(wheels=written)) for written in wheels}) == len(wheels)


def test_coupling_rods_only_where_wheels_are_coupled():
    assert "coupling-rods" not in picture(Engine(wheels="2-2-2")).shapes
    assert "coupling-rods" in picture(Engine(wheels="0-4-0ST")).shapes


def test_valve_gear_between_the_frames_is_not_drawn():
    assert "valve-gear" not in picture(Engine(wheels="0-6-0T", valve_gear="Stephenson")).shapes
    assert "valve-gear" in picture(Engine(wheels="0-6-0T", valve_gear="Walschaerts")).shapes


def test_the_rear_engine_of_two_with_a_slung_boiler_faces_the_other_way():
    front, rear = layout_of(Engine(wheels="0-4-0+0-4-0")).units
    middle = (front.at + rear.at) / 2
    assert front.x(front.cylinder_x) < min(axle.x + front.at for axle in front.axles)
    assert rear.x(rear.cylinder_x) > rear.x(0)
    assert rear.x(rear.cylinder_x) - middle == pytest.approx(middle - front.x(front.cylinder_x), rel=0.01)
