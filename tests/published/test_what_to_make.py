"""What is told to make gives the fit back: checked on the worked ISO 286 fits of iso286_worked_fits.csv (source there).

ISO 286-1 defines a fit by its least and most clearance. A shaft as one extreme of its class allows leaves the bore
the whole fit tolerance, the sum of both tolerances; and the hole class itself must be good for every shaft of the pair.
"""

import csv
from fractions import Fraction
from pathlib import Path

from inspections.domain.fits import FitLimits, Sized, judge_fit, what_to_make
from tests.tables import for_each

with open(Path(__file__).parent / "iso286_worked_fits.csv", encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

TINY = Fraction(1, 10**6)


def um(row, column):
    return Fraction(row[column]) / 1000


def pair(row):
    size = Fraction(row["nominal_mm"])
    return {
        "row": row,
        "hole": Sized(size + um(row, "EI_um"), size + um(row, "ES_um")),
        "shaft": Sized(size + um(row, "ei_um"), size + um(row, "es_um")),
        "limits": FitLimits(
            least=um(row, "min_clearance_um"),
            most=um(row, "max_clearance_um"),
            kind="press" if row["kind"] == "interference" else "running",
        ),
    }


every = for_each("pair", map(pair, ROWS))


def exactly(size):
    return Sized(size, size)


@every
def test_the_published_clearances_come_out(pair):
    found = judge_fit(pair["hole"], pair["shaft"], pair["limits"])
    assert (found.least, found.most) == (pair["limits"].least, pair["limits"].most)
    assert found.size_class == "as new"


@every
@for_each("which", ["least", "most"])
def test_a_bore_made_for_a_shaft_of_the_class_gives_the_fit_and_a_hair_more_does_not(pair, which):
    shaft = exactly(getattr(pair["shaft"], which))
    bore, _ = what_to_make(pair["hole"], shaft, pair["limits"])
    for share in range(5):
        made = bore.lower + bore.tolerance * share / 4
        assert judge_fit(exactly(made), shaft, pair["limits"]).size_class == "as new"
    assert judge_fit(exactly(bore.lower - TINY), shaft, pair["limits"]).outside
    assert judge_fit(exactly(bore.upper + TINY), shaft, pair["limits"]).outside


@every
@for_each("which", ["least", "most"])
def test_a_shaft_made_for_a_hole_of_the_class_gives_the_fit_and_a_hair_more_does_not(pair, which):
    hole = exactly(getattr(pair["hole"], which))
    _, shaft = what_to_make(hole, pair["shaft"], pair["limits"])
    for share in range(5):
        made = shaft.lower + shaft.tolerance * share / 4
        assert judge_fit(hole, exactly(made), pair["limits"]).size_class == "as new"
    assert judge_fit(hole, exactly(shaft.lower - TINY), pair["limits"]).outside
    assert judge_fit(hole, exactly(shaft.upper + TINY), pair["limits"]).outside


@every
def test_for_the_whole_class_of_shafts_the_bore_to_make_is_the_hole_class_itself(pair):
    bore, shaft = what_to_make(pair["hole"], pair["shaft"], pair["limits"])
    assert (bore.lower, bore.upper) == (pair["hole"].least, pair["hole"].most)
    assert (shaft.lower, shaft.upper) == (pair["shaft"].least, pair["shaft"].most)
    assert bore.sentence.startswith("The bore is to size already")
