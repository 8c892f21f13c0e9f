"""Tests of a boiler judged from their figures, and what stands against it.

Sources: ratio 1.25 x 180 = 225 from 17 NYCRR 922.9; 34 Pa. Code 3a.115 for the most that a test may reach, 106 per cent
of the test pressure; water of 60 to 120 °F as in the Ohio rule on historical boilers; 3 in of water over the crown, 17
NYCRR 922.13. Figures with no source are by hand.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from inspections.domain import boiler_status, boiler_test_paper
from inspections.domain.boiler_leaks import SurveyedPlate, read_leaks
from inspections.domain.boiler_status import Entered, against, next_due
from inspections.domain.boiler_test_fields import FIELDS, BoilerTestKind
from tests.tables import for_each

ON = date(2024, 6, 1)

HYDRAULIC = {
    "sort": "hydraulic test", "working": "180 lb/in²", "ratio": "1.25", "ratio_from": "922.9", "result": "passed",
    "most": "238.5 lb/in²", "reached": "225 lb/in²", "water": "70 °F", "water_low": "60 °F", "water_high": "120 °F",
    "water_from": "x", "gauge": "G1", "gauge_until": "2030-01-01", "gauge_2": "G2", "gauge_2_until": "2030-01-01",
    "vented": True, "stages": "x", "held_from": "10:00", "held_to": "10:30", "drop": "0 lb/in²", "deflections": "x",
    "leaks": "none", "gags_in": "2", "gags_out": "2", "blanks_in": "5", "blanks_out": "5", "after": "x", "witness": "W",
}  # fmt: skip


def hydraulic(**more):
    return boiler_test_paper.ReadTest(entered=HYDRAULIC | more, on=ON, wanted="180 lb/in²")


def test_a_test_on_each_limit_counts():
    """1.25 x 180 = 225 (17 NYCRR 922.9); 106 per cent of 225 is 238.5 (34 Pa. Code 3a.115)."""
    for more in (
        {},
        {"reached": "238.5 lb/in²"},
        {"water": "60 °F"},
        {"water": "120 °F"},
        {"gauge_until": "2024-06-01"},
    ):
        assert boiler_test_paper.does_not_count(hydraulic(**more)) == []


@for_each(
    ("more", "told_"),
    [
        ({"reached": "224.9 lb/in²"}, "Test again at 225 lb/in²"),
        ({"reached": "238.6 lb/in²"}, "Examine the whole boiler for overstrain"),
        ({"vented": False}, "there was air in it"),
        ({"water": "59 °F"}, "Test again with water between"),
        ({"water": "121 °F"}, "Test again with water between"),
        ({"gauge_until": "2024-05-31"}, "G1 was out of date"),
        ({"gauge_2_until": ""}, "G2 was out of date"),
        ({"gauge_2": ""}, "with two gauges"),
        ({"gags_out": "1"}, "Find the gags"),
        ({"blanks_out": "4"}, "Find the blanks"),
    ],
)
def test_a_bad_test_is_recorded_and_does_not_count(more, told_):
    found = boiler_test_paper.paper(hydraulic(**more))
    assert (found.against, found.counts) == ([], False)
    assert any(told_ in sentence for sentence in found.owed)


def test_a_point_that_did_not_come_back_is_named():
    """By hand: 0.2 before, 0.6 under, 0.3 after: moved 0.4 mm, kept 0.1 mm; held from 23:50 to 0:20, 30 minutes."""
    lines = "crown, middle: 0.2, 0.6, 0.3 mm\nbackhead: 0, 0.3, 0 mm\ndome: not measured"
    found = boiler_test_paper.paper(hydraulic(deflections=lines, held_from="23:50", held_to="00:20"))
    (moved,) = (section for section in found.sections if section.heading == "Deflections")
    assert [(row[0], row[2].split(" (")[0], row[3].split(" (")[0]) for row in moved.rows] == [
        ("crown, middle", "0.4 mm", "0.1 mm"), ("backhead", "0.3 mm", "0 mm")
    ]  # fmt: skip
    assert moved.sentences == ["Did not come back: crown, middle. Ask the competent person what that means."]
    assert ("Held for", "30 minutes") in found.facts


def test_the_rules_of_the_jurisdiction_begin_the_form():
    """49 CFR 230.36, from memory: 25 per cent above working pressure, water of 60 to 120 °F."""
    found = boiler_test_paper.usual_in("United States")
    assert (found["ratio"], found["water_low"], found["water_high"]) == ("1.25", "60 °F", "120 °F")
    assert "from memory" in found["ratio_from"]
    assert boiler_test_paper.usual_in("United Kingdom") == {}


def test_a_failed_test_is_recorded_as_failed():
    found = boiler_test_paper.paper(hydraulic(result="failed", why="a seam wept"))
    assert (found.passed, found.sentence) == (False, "Failed: a seam wept.")


@for_each("missing", [one.name for one in FIELDS[BoilerTestKind.HYDRAULIC] if one.must and one.kind != "yes"])
def test_each_figure_is_asked_for(missing):
    assert boiler_test_paper.against(hydraulic(**{missing: ""}))


STEAM = {"sort": "steam test", "working": "180 lb/in²", "reached": "186 lb/in²", "most": "186 lb/in²", "feed_1": True,
         "feed_2": True, "glasses": True, "gauge": "G", "gauge_until": "2030-01-01", "gauge_2": "G2",
         "gauge_2_until": "2030-01-01", "plugs_due": "2025-01-01"}  # fmt: skip
VALVES = {"sort": "safety-valve setting", "working": "180 lb/in²", "lifts": "180 lb/in²", "shuts": "174 lb/in²"}
GAUGES = {"sort": "gauge and glass check", "working": "180 lb/in²", "worst": "2 lb/in²", "worst_allowed": "2 lb/in²",
          "red_mark": "180 lb/in²", "glass_low": "3 in", "glass_least": "3 in", "cocks": True}  # fmt: skip


@for_each(
    ("good", "bad", "told_"),
    [
        (STEAM, {"reached": "187 lb/in²"}, "Put the safety valves right"),
        (STEAM, {"feed_2": False}, "Put the second feed right"),
        (STEAM, {"glasses": False}, "Clear the glasses"),
        (STEAM, {"plugs_due": "2024-05-31"}, "Renew the fusible plugs"),
        (VALVES, {"lifts": "181 lb/in²"}, "Set the first valve again"),
        (VALVES, {"shuts": "180 lb/in²"}, "cannot shut at or above"),
        (VALVES, {"lifts_2": "183 lb/in²"}, "Set the second valve again"),
        (GAUGES, {"worst": "2.1 lb/in²"}, "Have the gauge put right"),
        (GAUGES, {"red_mark": "160 lb/in²"}, "Set the red mark"),
        (GAUGES, {"glass_low": "2 7/8 in"}, "Put the glass right"),  # 3 in: 17 NYCRR 922.13
        (GAUGES, {"cocks": False}, "Clear the cocks"),
    ],
)
def test_the_other_tests_on_both_sides_of_their_limits(good, bad, told_):
    entered = boiler_test_paper.ReadTest(entered=good, on=ON, wanted="180 lb/in²")
    assert boiler_test_paper.does_not_count(entered) == []
    entered = boiler_test_paper.ReadTest(entered=good | bad, on=ON, wanted="180 lb/in²")
    assert any(told_ in sentence for sentence in boiler_test_paper.does_not_count(entered))


# --- what stands against a boiler


def a_test(number, **more):
    return boiler_status.Tested(
        **{"number": number, "sort": "hydraulic test", "on": ON, "passed": True, "counts": True} | more
    )


def test_a_bad_test_puts_it_in_doubt_until_a_later_one_of_the_sort_is_good():
    bad = a_test(1, counts=False, owed=("Vent it.",))
    assert [one.doubt for one in against([bad], [])] == [True, False]
    assert against([bad, a_test(2, sort="steam test")], [])
    assert against([bad, a_test(2)], []) == []
    assert against([a_test(1), a_test(2, passed=False)], [])


def test_what_a_repair_and_a_lowered_pressure_owe():
    def entry(number, kind):
        return Entered(number=number, kind=kind, on=ON, words="x")

    begun, done = entry(1, "pressure repair begun"), entry(2, "pressure repair finished")
    assert "Finish" in against([], [begun])[0].sentence
    assert "Test the boiler with water" in against([], [begun, done])[0].sentence
    assert against([a_test(3)], [begun, done]) == []


def test_a_lowered_pressure_owes_valves_and_red_mark_each_until_a_test_of_it_counts():
    lowered = Entered(number=1, kind="pressure lowered", on=ON, words="x", pressure="130 lb/in²")
    why = "for 130 lb/in² (8.96 bar): the pressure was lowered on 1 Jun 2024. Record it as a"
    assert [one.sentence for one in against([], [lowered])] == [
        f"Set the safety valves {why} safety-valve setting.", f"Set the red mark {why} gauge and glass check."
    ]  # fmt: skip
    valves = a_test(2, sort="safety-valve setting", working=Fraction(130))
    (left,) = against([valves], [lowered])
    assert "red mark" in left.sentence
    good = {"sort": "gauge and glass check", "working": Fraction(130)}
    assert against([valves, a_test(3, **good)], [lowered]) == []
    assert against([valves, a_test(3, **good | {"working": Fraction(131)})], [lowered]) == [left]
    assert against([a_test(0, **good), valves], [lowered]) == [left]
    for kind in ("valves and gauge mark reset", "pressure allowed"):
        assert against([], [lowered, Entered(number=2, kind=kind, on=ON, words="x")]) == []


def test_the_pressure_allowed_on_a_day_is_that_of_the_last_entry_before():
    def entry(number, on, pressure):
        return Entered(number=number, kind="pressure lowered", on=on, words="x", pressure=pressure)

    entries = [entry(1, date(2024, 3, 1), "130 lb/in²"), entry(2, date(2024, 2, 1), "150 lb/in²"), entry(3, ON, "")]
    found = [boiler_status.allowed_on(entries, date(2024, month, 15)) for month in (1, 2, 7)]
    assert found == ["", "150 lb/in²", "130 lb/in²"]


@for_each("good", [STEAM, VALVES, GAUGES])
def test_no_test_for_more_than_is_allowed_counts(good):
    read = boiler_test_paper.ReadTest(entered=good, on=ON, wanted="180 lb/in²", allowed="130 lb/in²")
    told = boiler_test_paper.does_not_count(read)
    assert "Do it again for 130 lb/in² (8.96 bar): no more was allowed on the day." in told
    assert boiler_test_paper.does_not_count(replace(read, allowed="180 lb/in²")) == []
    assert boiler_test_paper.does_not_count(replace(hydraulic(), allowed="130 lb/in²")) == []


def test_a_leak_is_marked_on_the_drawing_of_its_plate():
    sheet = SurveyedPlate(shape="sheet", width=Fraction(1200), height=Fraction(800), nominal=None, down=3, across=4)
    leaks = "Wrapper, row 3, column 2: weep\ndome joint\nwrapper, row 9, column 1: drip\nwrapper, row 3, column 2: stay"
    found = boiler_test_paper.paper(replace(hydraulic(leaks=leaks), sheets={"wrapper": sheet}))
    drawn, rest = (section for section in found.sections if section.heading.startswith("Leaks"))
    assert drawn.heading == "Leaks of wrapper"
    assert [(cell.text, cell.tint) for cell in drawn.drawn.cells if cell.text] == [("1, 4", 3)]
    assert drawn.rows == [("1", "row 3, column 2", "weep"), ("4", "row 3, column 2", "stay")]
    assert rest.sentences == ["2. dome joint", "3. wrapper, row 9, column 1: drip"]
    assert read_leaks("None.") == []


def test_when_a_row_of_the_scheme_falls_due():
    assert next_due(date(2024, 8, 31), 6) == date(2025, 2, 28)
    assert next_due(date(2023, 12, 15), 14) == date(2025, 2, 15)
    assert next_due(None, 14) is None
