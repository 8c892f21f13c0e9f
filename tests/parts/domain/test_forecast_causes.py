"""Why a forecast moved, worked by hand. The register of the example is invented."""

from datetime import date

from parts.domain.forecast_causes import (
    EARLIER,
    EITHER,
    LATER,
    Cause,
    Moved,
    counted,
    cracks,
    guess,
    pace,
    promise,
    promises,
    why,
)
from tests.tables import for_each


def test_a_fortnight_worked_by_hand():
    """From 1 March to 15 March half of the runs moved three weeks later. The foundry moved its castings by 8 weeks
    (1 March to 26 April is 56 days); two cracks were found; six axleboxes and a horn stay were accepted; the guess for
    the frames went down by five days."""
    happened = [
        counted(["axlebox"] * 6 + ["horn stay"], "was accepted", "were accepted", EARLIER, 7),
        cracks(2),
        guess("Frames", 20, 15),
        promise("Invented Foundry", "cylinder castings", date(2027, 3, 1), date(2027, 4, 26)),
        Cause(words="the opening days or the hands were entered anew", rank=2),
    ]
    assert why([cause for cause in happened if cause], 21) == [
        "Invented Foundry moved the cylinder castings from March to April: +8 weeks.",
        "Two more cracks were found.",
        "The opening days or the hands were entered anew.",
        "Against that: the guess for Frames went from 20 to 15 open days and six axleboxes and one horn stay were "
        "accepted.",
    ]
    earlier = why([cause for cause in happened if cause], -21)
    assert earlier[0] == "The guess for Frames went from 20 to 15 open days."
    assert earlier[-1].startswith("Against that: Invented Foundry moved the cylinder castings")


@for_each("old, new, words", [
    (date(2026, 12, 10), date(2027, 2, 4), "from December 2026 to February 2027: +8 weeks"),  # 56 days
    (date(2027, 3, 3), date(2027, 3, 13), "from 3 to 13 March: +10 days"),
    (date(2027, 5, 3), date(2027, 4, 5), "from May to April: -4 weeks"),
    (date(2027, 3, 3), date(2027, 3, 4), "from 3 to 4 March: +1 day"),
])  # fmt: skip
def test_a_promise_says_from_when_to_when_and_by_how_much(old, new, words):
    cause = promise("Firm", "casting", old, new)
    assert cause is not None
    assert cause.words == f"Firm moved the casting {words}"
    assert cause.way == (LATER if new > old else EARLIER)


def test_a_promise_that_came_back_to_its_day_is_no_cause():
    assert promise("Firm", "casting", date(2027, 3, 3), date(2027, 3, 3)) is None
    taken_back, first = (
        promise("Firm", "casting", date(2027, 3, 3), None),
        promise("", "casting", None, date(2027, 3, 3)),
    )
    assert taken_back is not None
    assert first is not None
    assert (taken_back.way, first.way) == (LATER, EITHER)
    assert first.words == "Nobody named promised the casting for 3 Mar 2027"


@for_each("names, words", [
    (["axlebox"], "one axlebox was accepted"),
    (["brake hanger, LH"] * 2, "two brake hangers, LH were accepted"),
    (["body"] * 2, "two bodies were accepted"),
    (["tray"] * 13, "13 trays were accepted"),
    (["firebars"] * 2, "two firebars were accepted"),
    (["a", "b", "b", "c", "d", "e"], "two bs, one a, one c and two more were accepted"),
])  # fmt: skip
def test_pieces_are_counted_by_what_they_are(names, words):
    cause = counted(names, "was accepted", "were accepted", EARLIER, 7)
    assert cause is not None
    assert cause.words == words


def test_nothing_is_no_cause_and_many_are_cut_short():
    assert (counted([], "was", "were", LATER, 1), cracks(0), guess("Frames", 5, 5)) == (None, None, None)
    found = why([Cause(words=f"thing {n}", way=LATER) for n in range(7)], 30)
    assert found[-1] == "And 3 things more."
    assert len(found) == 5


def test_what_one_firm_moved_alike_is_told_once():
    days = {"old": date(2026, 10, 12), "new": date(2026, 11, 9)}
    two = [Moved(of="Works", what=what, **days) for what in ("tubeplate", "doorplate")]
    (cause,) = promises(two)
    assert cause.words == "Works moved the tubeplate and the doorplate from October to November: +4 weeks"
    more = [Moved(of="Works", what=what, **days) for what in "abcde"]
    assert promises(more)[0].words == "Works moved the a, the b and three more from October to November: +4 weeks"
    other = Moved(of="Foundry", what="casting", **days)
    assert len(promises([*two, other])) == 2


def test_a_pace_that_fell_or_rose_is_told_and_a_little_is_not():
    """182 on 39 days is 4.67 a day, 222 on 39 is 5.69; 219 on 39 is 5.62, within five in a hundred of that."""

    def said(steps, days=39):
        return [
            "Open.",
            f"In the last 90 days {steps} steps were done on {days} open days; what nobody guessed goes on so.",
        ]

    fell, rose = pace(said(222), said(182)), pace(said(182), said(219))
    assert fell is not None
    assert rose is not None
    assert (fell.way, rose.way) == (LATER, EARLIER)
    assert fell.words.startswith("the pace fell: 182 steps in the ninety days")
    assert pace(said(222), said(219)) is None
    assert pace(said(222), ["Open."]) is None
    assert pace(said(100, 20), said(200, 40)) is None


@for_each("was, now", [
    ("12 steps were done on 0 open days", "20 steps were done on 30 open days"),
    ("20 steps were done on 30 open days", "12 steps were done on 0 open days"),
    ("0 steps were done on 30 open days", "20 steps were done on 30 open days"),
])  # fmt: skip
def test_where_no_day_was_open_there_is_no_pace_to_speak_of(was, now):
    assert pace([was], [now]) is None
