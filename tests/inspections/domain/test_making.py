"""What to make to bring a pair back to its fit. Figures worked by hand; the property is that it does bring it back."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inspections.domain.fits import FitLimits, Sized, judge_fit, what_to_make
from inspections.domain.limits import Limits

F = Fraction
WANTED = FitLimits(least=F("0.10"), most=F("0.20"), shop_most=F("0.5"))
WORN = {"hole": Sized(F("100.60"), F("100.62")), "shaft": Sized(F("99.98"), F("100.00"))}


def made(hole=WORN["hole"], shaft=WORN["shaft"], **limits):
    return what_to_make(hole, shaft, WANTED, **limits)


def test_the_bore_and_the_shaft_worked_by_hand():
    """Bore: 100.00 + 0.10 to 99.98 + 0.20. Shaft: 100.62 - 0.20 to 100.60 - 0.10."""
    bore, shaft = made()
    assert (bore.what, bore.lower, bore.upper, bore.tolerance) == ("bore", F("100.10"), F("100.18"), F("0.08"))
    assert (shaft.what, shaft.lower, shaft.upper) == ("shaft", F("100.42"), F("100.50"))


def test_a_bore_that_is_too_large_is_bushed_and_a_shaft_that_is_too_small_made_new():
    bore, shaft = made()
    assert (bore.needs_metal, bore.refusal) == (True, "metal")
    assert "Bush it, or fit a new brass, then bore to 100.1 mm to 100.18 mm" in bore.sentence
    assert (shaft.needs_metal, shaft.refusal) == (True, "metal")
    assert "Make it new, or build it up, then finish to" in shaft.sentence


def test_cutting_alone_does_for_a_tight_pair():
    bore, shaft = made(hole=Sized(F(100), F(100)), shaft=Sized(F("99.98"), F(100)))
    assert bore.sentence == (
        "Bore to 100.1 mm to 100.18 mm (3.941 in to 3.944 in) for the shaft as it is, a tolerance of 0.08 mm "
        "(about 0.0031 in)."
    )
    assert (shaft.lower, shaft.upper, shaft.refusal) == (F("99.8"), F("99.9"), "")
    assert shaft.sentence.startswith("Turn or grind the shaft to 99.8 mm to 99.9 mm")


@pytest.mark.parametrize(
    ("largest", "needs_metal"), [("100.1799", False), ("100.18", False), ("100.1801", True), ("100.05", False)]
)
def test_a_bore_at_the_very_end_of_what_may_be_made_needs_no_metal(largest, needs_metal):
    bore, _ = made(hole=Sized(F("100.02"), F(largest)))
    assert bore.needs_metal is needs_metal


@pytest.mark.parametrize(("smallest", "needs_metal"), [("99.7999", True), ("99.8", False), ("99.95", False)])
def test_a_shaft_at_the_very_end_of_what_may_be_made_needs_no_metal(smallest, needs_metal):
    """For a hole of 100 the shaft is 99.8 to 99.9."""
    _, shaft = made(hole=Sized(F(100), F(100)), shaft=Sized(F(smallest), F(100)))
    assert shaft.needs_metal is needs_metal


@pytest.mark.parametrize("bore", [("100.10", "100.18"), ("100.10", "100.12"), ("100.17", "100.18")])
def test_exactly_on_the_ends_it_is_to_size_already(bore):
    found, _ = made(hole=Sized(*map(F, bore)))
    assert found.sentence.startswith("The bore is to size already")


def test_a_piece_short_of_metal_says_which_way():
    bore, shaft = made()
    assert bore.sentence.startswith("The bore is already larger than it has to be.")
    assert shaft.sentence.startswith("The shaft is already smaller than it has to be.")


def test_a_range_well_inside_its_scrapping_limits_says_nothing_of_them():
    tight = {"hole": Sized(F(100), F(100)), "shaft": Sized(F(102), F(102))}
    bore, shaft = made(**tight, hole_limits=Limits(scrapping_lower=90, scrapping_upper=110))
    assert "scrapping" not in bore.sentence + shaft.sentence


def test_a_range_that_starts_at_the_lower_limit_is_not_past_it():
    tight = {"hole": Sized(F(100), F(100)), "shaft": Sized(F(102), F(102))}
    _, shaft = made(**tight, shaft_limits=Limits(shop_lower=F("99.8")))
    assert "without a decision" not in shaft.sentence
    _, shaft = made(**tight, shaft_limits=Limits(shop_lower=F("99.801")))
    assert "without a decision" in shaft.sentence


def test_a_pair_that_fits_is_to_size_already():
    bore, shaft = made(hole=Sized(F("100.12"), F("100.15")))
    assert bore.sentence.startswith("The bore is to size already")
    assert not shaft.refusal


def test_a_mate_too_far_out_of_round_is_trued_first():
    bore, shaft = made(hole=Sized(F("100"), F("100.1")), shaft=Sized(F("99.9"), F("100")))
    assert [(one.refusal, one.lower, one.upper, one.tolerance) for one in (bore, shaft)] == [
        ("shape", None, None, None)
    ] * 2
    assert "True the shaft first" in bore.sentence
    assert "True the hole first" in shaft.sentence


def test_past_a_scrapping_limit_nothing_is_made():
    bore, _ = made(shaft=Sized(F("102"), F("102")), hole_limits=Limits(scrapping_upper=F("102.1")))
    assert (bore.refusal, bore.needs_metal) == ("scrapping", False)
    assert "goes past its scrapping limit of 102.1 mm" in bore.sentence
    _, shaft = made(hole=Sized(F("99"), F("99")), shaft_limits=Limits(scrapping_lower=F("98.9")))
    assert shaft.refusal == "scrapping"
    assert "make a new one to the hole" in shaft.sentence


def test_a_range_that_crosses_a_scrapping_limit_ends_at_it():
    tight = {"hole": Sized(F(100), F(100)), "shaft": Sized(F(102), F(102))}
    bore, _ = made(**tight, hole_limits=Limits(scrapping_upper=F("102.15"), scrapping_upper_open=True))
    assert (bore.lower, bore.upper, bore.refusal) == (F("102.1"), F("102.15"), "")
    assert (
        "It ends at the scrapping limit of the bore, 102.15 mm (about 4.0217 in), which itself fails." in bore.sentence
    )


def test_past_the_shop_limit_it_is_said_that_a_decision_is_needed():
    tight = {"hole": Sized(F(100), F(100)), "shaft": Sized(F(102), F(102))}
    bore, _ = made(**tight, hole_limits=Limits(shop_upper=F("102.15")))
    assert "without a decision" in bore.sentence
    bore, _ = made(**tight, hole_limits=Limits(shop_upper=F("102.2")))
    assert "without a decision" not in bore.sentence


thou = st.integers(0, 1000).map(lambda n: F(n, 1000))


@given(st.data())
def test_whatever_is_made_fits(data):
    """Any bore within what was told fits the shaft in every direction, and any shaft the hole."""
    shaft = Sized(*sorted([100 + data.draw(thou) / 10, 100 + data.draw(thou) / 10]))
    hole = Sized(*sorted([100 + data.draw(thou), 100 + data.draw(thou)]))
    least = data.draw(thou) - F(1, 2)
    limits = FitLimits(least=least, most=least + F(1, 50) + data.draw(thou), kind="press" if least < 0 else "running")
    for make in what_to_make(hole, shaft, limits):
        assume(make.refusal != "shape")
        size = make.lower + data.draw(thou) * make.tolerance
        pair = (Sized(size, size), shaft) if make.what == "bore" else (hole, Sized(size, size))
        assert judge_fit(*pair, limits).size_class == "as new"
