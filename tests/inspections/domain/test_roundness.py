"""Ovality and taper."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain import roundness
from inspections.domain.circles import fit_circle
from inspections.domain.roundness import Reading, shape


def sheet(*rows):
    return [Reading(station=station, direction=direction, size=Decimal(size)) for station, direction, size in rows]


JOURNAL = sheet(
    ("inner", "vertical", "125.02"),
    ("inner", "horizontal", "124.96"),
    ("outer", "vertical", "124.98"),
    ("outer", "horizontal", "124.95"),
)


def test_a_journal_read_in_four_places():
    found = shape(JOURNAL)
    assert found.ovality == {"inner": Fraction("0.06"), "outer": Fraction("0.03")}
    assert found.taper == {"vertical": Fraction("0.04"), "horizontal": Fraction("0.01")}
    assert (found.worst_ovality, found.worst_taper) == (Fraction("0.06"), Fraction("0.04"))
    assert (found.least, found.most) == (Fraction("124.95"), Fraction("125.02"))


def test_one_direction_says_nothing_of_ovality_and_one_station_nothing_of_taper():
    found = shape(sheet(("inner", "vertical", "125"), ("outer", "vertical", "126")))
    assert (found.ovality, found.worst_ovality) == ({}, None)
    found = shape(sheet(("inner", "vertical", "125"), ("inner", "horizontal", "126")))
    assert (found.taper, found.worst_taper) == ({}, None)


def test_two_readings_of_one_place_are_refused():
    with pytest.raises(ValueError, match="two readings at inner, vertical"):
        shape([*JOURNAL, *sheet(("inner", "vertical", "125.03"))])


def test_an_empty_sheet_is_refused():
    with pytest.raises(ValueError, match="no readings"):
        shape([])


def test_what_is_known_of_its_shape_in_words():
    assert roundness.in_words(Fraction("0.06"), None, "mm") == "Ovality 0.06 mm (about 0.0024 in)."
    both = roundness.in_words(Fraction("0.0254"), Fraction("0.0508"), "in")
    assert both == "Ovality 0.001 in (0.0254 mm); taper 0.002 in (0.0508 mm)."
    assert roundness.in_words(None, None, "in") == ""


def test_independent_uncertainties_add_by_their_squares():
    """3, 4, 5: the triangle; and never rounded down."""
    assert roundness.combined_uncertainty(3, 4) == 5
    assert roundness.combined_uncertainty(Decimal("0.002")) == Fraction("0.002")
    two = roundness.combined_uncertainty(Decimal("0.002"), Decimal("0.002"))
    assert two**2 >= 2 * Fraction("0.002") ** 2 > (two - Fraction(1, 10**9)) ** 2


@pytest.mark.parametrize("bad", [(), (-1,), (1, float("nan"))])
def test_what_is_no_uncertainty_is_refused(bad):
    with pytest.raises(ValueError, match="uncertaint"):
        roundness.combined_uncertainty(*bad)


@pytest.mark.parametrize("lobes", [3, 5])
def test_the_warning_is_true_two_point_measuring_cannot_see_odd_lobes(lobes):
    """A form r = R + h cos(n a) with n odd has the diameter r(a) + r(a + 180°) = 2R in every direction."""
    angles = [math.radians(a) for a in range(0, 360, 3)]
    radius = {a: 100 + 0.05 * math.cos(lobes * a) for a in angles}
    across = [
        Reading(station="middle", direction=f"{a}", size=r + 100 + 0.05 * math.cos(lobes * (a + math.pi)))
        for a, r in radius.items()
    ]
    assert float(shape(across).worst_ovality) < 1e-9
    assert fit_circle([(r * math.cos(a), r * math.sin(a)) for a, r in radius.items()]).out_of_round > 0.09
    assert "three or five lobes" in roundness.TWO_POINT_WARNING
