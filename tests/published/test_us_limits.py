"""Every limit of 49 CFR Part 230 (United States law, by clause) on both sides of it and on it.

The regulation says of each limit whether the value on it fails ("at or over") or passes ("over"). The CSV files beside
this one were read from stored copies of the regulation; the lookups are checked on what they print.
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from inspections.domain.classes import Wears
from inspections.domain.lengths import parse_length
from inspections.domain.limit_sheets import rows as sheet_rows
from inspections.domain.limit_sheets import tender_axle, tire_thickness_mm
from inspections.domain.roundness import Reading
from inspections.domain.sizing import Limits, size_up
from inspections.domain.verdicts import judge
from tests.tables import for_each

HERE = Path(__file__).parent
INCH = Fraction(254, 10)
LITTLE = Fraction(1, 10**6)


def published(name):
    with open(HERE / f"us_49cfr230_{name}.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = published("limits")
TENDER_AXLES = published("99_tender_axles")
TIRES = published("112_tire_thickness")


def inches(text):
    return parse_length(f"{text} in")


def limits(row):
    """The limit as the words of its clause put it. A narrow track's rows limit track gage less wheel gage."""
    limit, words = inches(row["value_in"]), row["fails_when"].removesuffix(", both")
    if words.startswith("gage "):
        words = "over" if words.startswith("gage under") else "under"
    is_open = words.startswith("at or")
    side = "upper" if words.endswith("over") else "lower"
    return side, limit, is_open


@for_each("row", ROWS, ids=lambda row: f"{row['clause']} {row['item']}")
@for_each("rule", ["simple", "guarded"])
def test_both_sides_and_the_limit_itself(row, rule):
    side, limit, is_open = limits(row)
    given = {side: limit, f"{side}_open": is_open}
    outwards = LITTLE if side == "upper" else -LITTLE
    assert judge(limit - outwards, **given, rule=rule) == "within"
    assert judge(limit + outwards, **given, rule=rule) == "outside"
    assert judge(limit, **given, rule=rule) == ("outside" if is_open else "within")


@for_each(("row", "line"), list(zip(ROWS, sheet_rows(), strict=True)))
def test_the_sheet_that_ships_says_the_same(row, line):
    side, limit, is_open = limits(row)
    assert (line.clause, line.item, line.applies_to) == (row["clause"], row["item"], row["applies_to"])
    assert (line.side, line.value_mm, line.is_open) == (side, limit, is_open)
    outwards = LITTLE if side == "upper" else -LITTLE
    assert line.judge(limit - outwards) == "within"
    assert line.judge(limit + outwards) == "outside"
    assert line.judge(limit) == ("outside" if is_open else "within")


@for_each("row", ROWS, ids=lambda row: f"{row['clause']} {row['item']}")
def test_through_the_workshops_classes_no_concession_moves_a_limit_of_law(row):
    side, limit, is_open = limits(row)
    law = {f"{which}_{side}": limit for which in ("shop", "scrapping")}
    law |= {f"{which}_{side}_open": is_open for which in ("shop", "scrapping")}
    judged = Limits(**law, unit="in", wears=Wears.LARGER if side == "upper" else Wears.SMALLER)
    outwards = LITTLE if side == "upper" else -LITTLE

    def beyond(size):
        found = size_up(row["item"], [Reading(station="", direction="", size=size)], judged, round_part=False)
        assert found.outside is found.beyond_scrapping
        return found.beyond_scrapping

    assert [beyond(limit - outwards), beyond(limit), beyond(limit + outwards)] == [False, is_open, True]


WEAR_OF_AXLES = [row for row in ROWS if "loss from original" in row["item"]]


@pytest.mark.parametrize("row", WEAR_OF_AXLES, ids=lambda row: row["clause"])
@pytest.mark.parametrize("original", ["6 1/2", "9", "10 3/64"])
def test_wear_is_a_loss_from_the_original_diameter(row, original):
    """230.98(a)(6) and (7): "worn 1/2 inch or more in diameter below the original/new journal diameter"."""
    loss = inches(row["value_in"])
    condemned_at = inches(original) - loss
    journal = Limits(
        new_upper=inches(original), shop_lower=condemned_at, shop_lower_open=True, scrapping_lower=condemned_at,
        scrapping_lower_open=True, unit="in", wears=Wears.SMALLER,
    )  # fmt: skip
    line = next(line for line in sheet_rows() if line.item == row["item"])
    for size, condemned in ((condemned_at + LITTLE, False), (condemned_at, True), (condemned_at - LITTLE, True)):
        found = size_up("journal", [Reading(station="", direction="", size=size)], journal)
        assert found.beyond_scrapping is condemned
        assert (line.judge(inches(original) - size) == "outside") is condemned


@pytest.mark.parametrize(
    ("clause", "printed"),
    [
        ("230.113(d)", ["3 3/4"]),
        ("230.113(e)", ["2 1/2", "2"]),
        ("230.113(f)", ["3 3/4"]),
        ("230.113(k)", ["3/32"]),
    ],
)
def test_wheel_defects_as_two_copies_of_the_text_print_them(clause, printed):
    """49 CFR 230.113, as printed in the code (docslib.org, two pages) and in RAC Circular MC-3, page 47 (yumpu.com)."""
    found = [row for row in ROWS if row["clause"] == clause]
    assert [row["value_in"] for row in found] == printed
    assert not any("memory" in row["source"] for row in found)


def test_clauses_of_which_no_copy_was_read_say_so_wherever_they_are_shown():
    """230.96 and 230.105: from memory."""
    remembered = [line for line in sheet_rows() if line.clause.startswith(("230.96", "230.105"))]
    assert len(remembered) == 9
    assert all("From memory" in line.note for line in remembered)
    assert not any("From memory" in line.note for line in sheet_rows() if line not in remembered)


def test_there_are_limits_of_each_sort():
    sorts = {row["fails_when"].removesuffix(", both") for row in ROWS if not row["fails_when"].startswith("gage")}
    assert sorts == {"over", "at or over", "under", "at or under"}
    assert len(ROWS) == 49
    assert len(WEAR_OF_AXLES) == 2


@pytest.mark.parametrize("row", TENDER_AXLES, ids=lambda row: row["axle_load_lb_up_to"])
def test_tender_axles_at_the_load_of_their_row_and_just_over_it(row):
    """230.99: the least diameters for various axle loads; a size on its least is enough, a hair under it is not."""
    load = int(row["axle_load_lb_up_to"])
    for found in (tender_axle(load), tender_axle(load - 1)):
        assert found.journal_mm == inches(row["journal_min_in"])
        assert found.wheel_seat_mm == inches(row["wheel_seat_min_in"])
        assert found.centre_mm == inches(row["centre_min_in"])
    for least in (found.journal_mm, found.wheel_seat_mm, found.centre_mm):
        assert [judge(least + step, lower=least) for step in (LITTLE, 0, -LITTLE)] == ["within", "within", "outside"]
    if load < 50000:
        assert tender_axle(load + 1).journal_mm > found.journal_mm


@pytest.mark.parametrize("load", [50001, Fraction("50000.5"), 80000])
def test_a_tender_axle_load_beyond_the_table_is_refused(load):
    with pytest.raises(ValueError, match=r"230\.99 ends at 50000 lb"):
        tender_axle(load)


@for_each("load", [0, -1, float("nan"), "15000"])
@for_each("table", [tender_axle, lambda load: tire_thickness_mm(load, 50)])
def test_what_is_no_load_is_refused(table, load):
    with pytest.raises(ValueError, match="load on an axle must be"):
        table(load)


LOADS = [30000, 35000, 40000, 45000, 50000, 55000, None]  # None: over the last
CENTRES = [44, 50, 56, 62, 68, 74, None]
CELLS = [(n, m) for n in range(7) for m in range(7)]


@for_each(("n", "m"), CELLS)
def test_tires_in_every_cell_of_the_table_at_its_ends(n, m):
    """230.112(d): the bands are over one figure, up to and including the next."""
    row = TIRES[n]
    thickness = inches(list(row.values())[m + 1])
    lightest, heaviest = (LOADS[n - 1] + 1 if n else 1), LOADS[n] or 200000
    smallest, largest = (CENTRES[m - 1] + LITTLE if m else 20), CENTRES[m] or 96
    for load in (lightest, heaviest):
        for centre in (smallest, largest):
            assert tire_thickness_mm(load, centre) == thickness
    assert [judge(thickness + step, lower=thickness) for step in (LITTLE, 0, -LITTLE)] == [
        "within", "within", "outside",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("load", "centre", "printed"),
    [
        (30000, 44, "1 1/4"),
        (30000, 75, "1 5/8"),
        (30001, 75, "1 11/16"),
        (40000, 60, "1 9/16"),
        (55000, 74, "1 7/8"),
        (60000, 80, "2"),
    ],
)
def test_tires_as_the_regulation_prints_them(load, centre, printed):
    """49 CFR 230.112(d), as read in stored copies (federal.elaws.us, docslib.org), line by line."""
    assert tire_thickness_mm(load, centre) == inches(printed)


@pytest.mark.parametrize("centre", [0, -4, float("inf"), "44"])
def test_what_is_no_wheel_centre_is_refused(centre):
    with pytest.raises(ValueError, match="diameter of the wheel centre must be"):
        tire_thickness_mm(30000, centre)


def test_the_data_that_ships_is_what_was_published():
    data = HERE.parent.parent / "inspections" / "data"
    for name in ("limits", "99_tender_axles", "112_tire_thickness"):
        with open(data / f"us_49cfr230_{name}.csv", encoding="utf-8", newline="") as file:
            assert list(csv.DictReader(file)) == published(name)


@pytest.mark.parametrize(("track", "least", "most"), [("36", "32 1/2", "32 7/8"), ("24", "20 1/2", "20 7/8")])
def test_wheels_of_a_narrow_track(track, least, most):
    """230.112(b): out of gage if less than the track gage less 3 1/2 in or more than the track gage less 3 1/8 in."""
    both = [line for line in sheet_rows() if line.kind == "size below track gage"]
    assert len(both) == 2

    def in_gage(gage):
        return all(line.judge(inches(track) - gage) == "within" for line in both)

    low, high = inches(least), inches(most)
    assert [in_gage(low - LITTLE), in_gage(low), in_gage(high), in_gage(high + LITTLE)] == [False, True, True, False]
