"""A survey on a grid: what a pressure rests on by hand, and HSE RR016 (TWI 2002) where points do not pair.

Velocities: a gauge maker's tutorial of material sound velocities (steel 1020 5,890 m/s, copper 4,660, brass 4,430).
"""

from datetime import date
from fractions import Fraction

import pytest

from inspections.domain.survey_grid import (
    BlockCheck,
    PointMark,
    Reading,
    Survey,
    Zone,
    ZoneVerdict,
    against_needed,
    at_true_velocity,
    plate_loss,
    point_loss,
    rests_on,
    velocity_question,
    zones,
)

GOOD = BlockCheck(block=10, opening=10, closing=Fraction("10.1"), tolerance=Fraction("0.1"))


def reading(row, column, thickness, zone="bottom", mark=PointMark.READ):
    return Reading(point=(row, column), zone=zone, thickness=thickness, mark=mark)


def three():
    return [reading(1, 1, 12), reading(1, 2, Fraction("11.6"), mark=PointMark.THIN), reading(1, 3, Fraction("11.9"))]


def day(year):
    return date(year, 6, 1)


def survey(year, *sizes, start=1):
    return Survey(day=day(year), sizes={(1, n): Fraction(str(size)) for n, size in enumerate(sizes, start)})


def test_least_and_mean_of_a_zone():
    (zone,) = zones(three(), GOOD)
    assert (zone.least, zone.least_at, zone.read, zone.thin) == (Fraction("11.6"), (1, 2), 3, 1)
    assert zone.mean == Fraction("35.5") / 3
    assert zone.covered


def test_zones_stay_apart_and_in_their_order():
    found = zones([*three(), reading(9, 1, 15, "top")], GOOD)
    assert [(zone.name, zone.least) for zone in found] == [("bottom", Fraction("11.6")), ("top", 15)]


def test_what_a_pressure_rests_on():
    """By hand: 11.6 - 0.1 - 0.2 x 1 = 11.3."""
    (zone,) = zones(three(), GOOD)
    assert rests_on(zone, Fraction("0.1"), Fraction("0.2"), 1) == Fraction("11.3")


def test_the_mean_only_on_a_written_word():
    (zone,) = zones(three(), GOOD)
    assert rests_on(zone, 0, 0, 0, mean_on_the_word_of="  ") == zone.least
    assert rests_on(zone, 0, 0, 0, mean_on_the_word_of="competent person, letter 14") == zone.mean


def test_a_plate_that_seems_to_grow_gains_nothing():
    (zone,) = zones(three(), GOOD)
    assert rests_on(zone, 0, Fraction(-1), 5) == zone.least


def test_never_less_than_nothing():
    (zone,) = zones(three(), GOOD)
    assert rests_on(zone, 0, 5, 5) == 0


@pytest.mark.parametrize(
    ("needed", "verdict"), [("11.2", ZoneVerdict.ABOVE), ("11.3", ZoneVerdict.ABOVE), ("11.4", ZoneVerdict.BELOW)]
)
def test_on_both_sides_of_the_thickness_needed_and_on_it(needed, verdict):
    (zone,) = zones(three(), GOOD)
    found = against_needed(zone, Fraction(needed), Fraction("0.1"), Fraction("0.2"), 1)
    assert found.verdict is verdict
    assert found.margin == Fraction("11.3") - Fraction(needed)


def test_a_point_that_was_not_read_leaves_a_zone_open():
    (zone,) = zones([*three(), reading(2, 1, None, mark=PointMark.UNREADABLE)], GOOD)
    assert zone.not_read == ((2, 1),)
    assert against_needed(zone, 8, 0, 0, 0).verdict is ZoneVerdict.NOT_COVERED
    assert against_needed(zone, 12, 0, 0, 0).verdict is ZoneVerdict.BELOW


def test_a_zone_of_which_nothing_was_read_has_no_figure():
    (zone,) = zones([reading(1, 1, None, mark=PointMark.NOT_REACHED)], GOOD)
    assert (zone.least, zone.mean, zone.covered) == (None, None, False)
    assert against_needed(zone, 8, 0, 0, 0).verdict is ZoneVerdict.NOT_COVERED
    with pytest.raises(ValueError, match="Nothing was read"):
        rests_on(zone, 0, 0, 0)


@pytest.mark.parametrize(("closing", "counts"), [("9.89", 0), ("9.9", 1), ("10.1", 1), ("10.11", 0)])
def test_the_closing_check_on_both_sides_of_its_tolerance(closing, counts):
    check = BlockCheck(block=10, opening=10, closing=Fraction(closing), tolerance=Fraction("0.1"))
    if counts:
        assert zones(three(), check)
    else:
        with pytest.raises(ValueError, match="closing check on the block is out"):
            zones(three(), check)


def test_without_a_closing_check_no_reading_counts():
    with pytest.raises(ValueError, match="closing check .* no reading counts"):
        zones(three(), BlockCheck(block=10, opening=10, closing=None, tolerance=1))
    with pytest.raises(ValueError, match="opening check"):
        zones(three(), BlockCheck(block=10, opening=None, closing=10, tolerance=1))


@pytest.mark.parametrize(
    ("metal", "velocity", "asked"),
    [
        ("steel", 5890, None),
        ("steel", 5950, None),
        ("steel", 5951, "1 per cent too thick"),
        ("steel", 4660, "21 per cent too thin"),
        ("copper", 4660, None),
        ("copper", 5890, "26 per cent too thick"),
        ("cast iron", 4600, "known thickness"),
        ("wrought iron", 5890, "known thickness"),
    ],
)
def test_the_velocity_is_asked_about(metal, velocity, asked):
    found = velocity_question(metal, velocity)
    assert found is None if asked is None else asked in found


def test_copper_read_at_the_velocity_of_steel():
    """5,890 against 4,660 m/s: 15 mm shown is 11.87."""
    assert round(float(at_true_velocity(15, 5890, 4660)), 2) == 11.87


def test_the_point_that_loses_most_counts():
    found = plate_loss([survey(2020, 11, 10), survey(2010, 12, "11.5"), survey(2015, "11.8", "10.5")])
    assert (found.rate, found.at, found.paired, found.of_points) == (Fraction("0.16"), (1, 1), True, 2)


def test_a_point_renewed_is_reckoned_from_then_on():
    surveys = [survey(2010, 12, 12), survey(2015, 8, "11.5"), survey(2020, 12, 11)]
    found = plate_loss(surveys, renewed={(1, 1): day(2018)})
    assert (found.rate, found.at, found.of_points) == (Fraction("0.1"), (1, 2), 1)
    assert point_loss((1, 1), surveys, renewed={(1, 1): day(2018)}) is None
    with pytest.raises(ValueError, match="thicker than an earlier one"):
        plate_loss(surveys)


def test_points_that_do_not_pair():
    """HSE RR016, 5.3.1, in the figures of thickness_statistics.csv U1: (1.2 - 0.3) mm in 5 years: 0.18 mm a year."""
    surveys = [survey(2015, "11.7", "11.2"), survey(2020, "10.8", "11.9", start=7)]
    found = plate_loss(surveys, nominal=12)
    assert (found.rate, found.at, found.paired) == (Fraction("0.18"), None, False)


@pytest.mark.parametrize(
    ("call", "what"),
    [
        (lambda: zones([reading(1, 1, 12), reading(1, 1, 11)], GOOD), "entered twice"),
        (lambda: reading(1, 1, None), "either a thickness or a reason"),
        (lambda: reading(1, 1, 12, mark=PointMark.UNREADABLE), "either a thickness or a reason"),
        (lambda: reading(1, 1, 0), "above zero"),
        (lambda: plate_loss([survey(2020, 12)]), "two surveys"),
        (lambda: plate_loss([survey(2020, 12), survey(2020, 11)]), "two surveys"),
        (lambda: plate_loss([survey(2015, 12), survey(2020, 11, start=5)]), "thickness as new"),
        (lambda: plate_loss([survey(2015, 12), survey(2020, 11, start=5)], 0, {(1, 1): day(2018)}, 12), "renewed"),
        (lambda: plate_loss([survey(2015), survey(2020, 11)], nominal=12), "must have a reading"),
        (lambda: velocity_question("steel", 0), "velocity"),
        (lambda: against_needed(Zone(name="a", least=None, least_at=None, mean=None, read=0, thin=0, not_read=()),
                                0, 0, 0, 0), "thickness needed"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()
