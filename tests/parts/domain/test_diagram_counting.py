"""What readiness has counted, as the drawing takes it: each place once, and what blocks it told apart."""

from datetime import date

from parts.domain.diagram.counting import rows_of
from parts.domain.diagram.states import LineStyle, added_up
from parts.domain.readiness import readiness_from_counts
from parts.domain.sequence import Sub, order_of
from parts.domain.tallies import Count

TODAY = date(2026, 11, 2)
FRAMES, HORNS = Sub(id=1, code="frames", name="Frames"), Sub(id=2, code="horns", name="Horns", parent=1)


def rows(*counts):
    """Rows from (subassembly, word, need, number)."""
    tallied = [Count(sub, word, need, True, number) for sub, word, need, number in counts]
    found = readiness_from_counts(tallied, order_of((FRAMES, HORNS), ()), {}, TODAY)
    return rows_of(found, lambda code: f"/s/{code}/")


def test_a_whole_does_not_count_its_parts_again():
    found = rows((1, "refitted", None, 3), (2, "ready", None, 4), (2, "asleep", None, 9))
    assert [(row.code, row.required, row.refitted, row.ready) for row in found] == [
        ("frames", 3, 3, 0), ("horns", 4, 0, 4)
    ]  # fmt: skip
    assert found[1].href == "/s/horns/"


def test_what_has_no_places_of_its_own_has_no_row():
    assert [row.code for row in rows((2, "blocked", "clean", 1))] == ["horns"]


def test_nothing_there_on_the_locomotive_and_off_it_are_three_lines():
    missing = rows((1, "blocked", "source", 2), (1, "blocked", "await", 3), (1, "blocked", "clean", 1))
    standing = rows((1, "blocked", "strip", 4), (1, "blocked", "find", 1))
    off = rows((1, "blocked", "crack-check", 2), (1, "blocked", "find", 1), (1, "blocked", "fetch", 1))
    assert [added_up(found).line for found in (missing, standing, off)] == [
        LineStyle.MISSING,
        LineStyle.IN_PLACE,
        LineStyle.OFF,
    ]
    assert (missing[0].missing, standing[0].in_place, added_up(off).off) == (5, 4, 4)


def test_in_doubt_whether_refitted_or_still_to_go_on():
    (row,) = rows((1, "refitted", "recheck", 1), (1, "refitted", None, 1), (1, "blocked", "recheck", 2))
    assert (row.refitted, row.in_doubt) == (2, 3)
    (complete,) = rows((1, "refitted", "recheck", 1), (1, "refitted", None, 1))
    assert added_up([complete]).line is LineStyle.PARTLY
