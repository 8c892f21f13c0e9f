"""What a part looks like for how far it is."""

import pytest

from parts.domain.diagram.states import LineStyle, added_up
from tests.parts.domain.diagram_engines import row
from tests.tables import for_each


def cab(**counts):
    return added_up([row("cab", **counts)])


@for_each(
    ("counts", "line"),
    [
        ({"required": 4, "missing": 4}, LineStyle.MISSING),
        ({"required": 4, "in_place": 4}, LineStyle.IN_PLACE),
        ({"required": 4}, LineStyle.OFF),
        ({"required": 4, "ready": 4}, LineStyle.PARTLY),
        ({"required": 4, "refitted": 4}, LineStyle.COMPLETE),
        ({"required": 4, "refitted": 4, "in_doubt": 1}, LineStyle.PARTLY),  # complete, but not to be relied on
        ({"required": 4, "refitted": 2, "ready": 2}, LineStyle.PARTLY),
        ({"required": 9, "refitted": 2, "missing": 4, "in_place": 3}, LineStyle.MISSING),  # what most of the rest is
        ({"required": 9, "refitted": 2, "missing": 3, "in_place": 4}, LineStyle.IN_PLACE),
        ({"required": 4, "missing": 2, "in_place": 2}, LineStyle.MISSING),  # the worse of two equals
        ({}, LineStyle.IN_PLACE),
    ],
)
def test_the_line_round_a_part(counts, line):
    assert cab(**counts).line is line


def test_only_what_is_there_hides_what_is_behind():
    assert not cab(required=4, missing=4).stands
    assert not cab(required=4).stands
    assert cab(required=4, missing=3, refitted=1).stands
    assert cab(required=4, in_place=4).stands


def test_counts_in_words():
    axleboxes = cab(required=18, refitted=10, ready=6)
    assert axleboxes.in_words() == "10 of 18 refitted, 6 ready, 2 blocked"
    assert cab(required=2, refitted=2).in_words() == "2 of 2 refitted"
    assert cab(required=2, refitted=1, in_doubt=1).in_words() == "1 of 2 refitted, 1 blocked, 1 in doubt"
    assert cab().in_words() == "nothing required"


def test_subassemblies_of_one_part_are_added_up():
    whole = added_up([row("boiler", required=4, refitted=1), row("boiler-tubes", required=6, ready=3)])
    assert (whole.solid, whole.hatched) == (0.1, 0.4)


@pytest.mark.parametrize("counts", [{"required": 1, "refitted": 2}, {"required": 1, "ready": -1}])
def test_counts_that_cannot_be_are_refused(counts):
    with pytest.raises(ValueError, match="Cab"):
        added_up([row("cab", **counts)])
