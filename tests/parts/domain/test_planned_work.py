"""People and machines in a forecast. The figures are worked by hand; the workshops are invented."""

from datetime import date, timedelta
from fractions import Fraction

import pytest

from parts.domain.attendance import Days
from parts.domain.forecast import forecast
from parts.domain.forecast_rows import HANDS, Resource, ThreePoint
from parts.domain.forecast_runs import plan_of, run
from parts.domain.network import queue_schedule
from parts.domain.open_work import GETTING_READY, PUTTING_TOGETHER, UNKNOWN_PACE, Hours
from parts.domain.planned_work import MachineHours, Planned, peopled, with_pace_told, with_planned
from tests.parts.domain.workshops import exactly, job, needing, saturday, workshop

LATHE = MachineHours(name="wheel lathe")
SATURDAYS = Days(week=(False,) * 5 + (True, False))
NEVER = Days()


def assembly(code, minutes=100):
    return job(f"Put together: {code}", minutes, subassembly=code, kind=PUTTING_TOGETHER, needs=needing(hands=1))


def turning(code, days=1, **more):
    fields = {"name": "Turn", "subassembly": code, "days": exactly(days), "needs": ("wheel lathe",)}
    return Planned(**fields | more)


def test_two_jobs_wait_for_one_lathe_and_each_comes_before_its_assembly():
    """Two days of turning each on one lathe, 100 minutes a day: the second assembly waits for the fourth day."""
    shop = with_planned(
        workshop(assembly("A"), assembly("B")), [turning("A", 2), turning("B", 2)], [LATHE], {}, Fraction(100)
    )
    found = forecast(shop, runs=3)
    assert [found.subassemblies[code].half for code in "AB"] == [saturday(2), saturday(4)]
    starts = run(plan_of(shop), runs=1, seed=1).starts()
    rows = [(each.name, int(each.minutes.likely), each.after, each.needs) for each in shop.work]
    assert starts == queue_schedule(rows, {HANDS: 8, "wheel lathe": 1})
    assert "wheel lathe: 1 job at once, whenever the workshop is open." in found.assumes


def test_work_of_what_has_nothing_left_to_put_together_is_not_planned():
    shop = with_planned(workshop(assembly("A")), [turning("C")], [LATHE], {}, Fraction(100))
    assert [work.name for work in shop.work] == ["Put together: A"]
    assert shop.resources == ()


def test_a_machine_with_hours_is_used_in_those_alone():
    """Forty minutes each Saturday: 100 minutes of turning end on the third, and the assembly on the fourth."""
    short = MachineHours(name="wheel lathe", week=(None,) * 5 + (40, None))
    shop = with_planned(workshop(assembly("A")), [turning("A")], [short], {}, Fraction(100))
    assert forecast(shop, runs=1).whole.half == saturday(3)
    never = MachineHours(name="wheel lathe", week=(0,) * 7)
    shop = with_planned(workshop(assembly("A")), [turning("A")], [never], {}, Fraction(100))
    (sentence,) = forecast(shop, runs=1).missing
    assert sentence.startswith("Enter the days on which wheel lathe is in")


def test_a_skill_is_there_on_the_days_of_those_who_have_it():
    """Whoever brazes comes every second Saturday, so two days of it end on the third, the assembly on the fourth."""
    comes = Days(unlike={saturday(n): True for n in range(0, 20, 2)})
    row = turning("A", 2, needs=("braze",))
    shop = with_planned(workshop(assembly("A")), [row], [], {"braze": [comes]}, Fraction(100))
    assert forecast(shop, runs=1).whole.half == saturday(3)
    nobody = with_planned(workshop(assembly("A")), [row], [], {}, Fraction(100))
    assert forecast(nobody, runs=1).missing == ("Enter who or what does braze: Turn: A (1) needs it.",)
    away = with_planned(workshop(assembly("A")), [row], [], {"braze": [NEVER]}, Fraction(100))
    assert "Enter the days on which braze is in" in forecast(away, runs=1).missing[0]


def test_hands_are_counted_from_who_comes():
    """Three come on Saturdays, one of them never on Sundays; at Christmas nobody does."""
    first = date(2026, 12, 5)
    hours = Hours(week=(0, 0, 480, 0, 0, 480, 300), hands=ThreePoint(3, 6, 10))
    both = Days(week=(False,) * 5 + (True, True))
    gone = {date(2026, 12, 26): False, date(2026, 12, 27): False}
    people = [
        Days(week=both.week, unlike=gone),
        Days(week=both.week, unlike=gone),
        Days(week=SATURDAYS.week, unlike=gone),
    ]
    counted, told = peopled(hours, people, first)
    assert told == "People are counted from the days that 3 people said they come."
    assert counted.hands == ThreePoint(2, 3, 3)
    assert counted.week == (0, 0, 0, 0, 0, 480, 300)
    assert [counted.minutes(first + timedelta(n)) for n in (0, 1, 4, 21, 22)] == [480, 300, 0, 0, 0]
    assert peopled(hours, [NEVER], first)[0] == hours


def test_the_pace_that_people_told_counts_where_the_log_has_none():
    shop = workshop(pace={GETTING_READY: UNKNOWN_PACE, PUTTING_TOGETHER: exactly(2)})
    took = {GETTING_READY: ["double", "double", "as thought"], PUTTING_TOGETHER: ["half"] * 5}
    told = with_pace_told(shop, took).pace
    assert told[GETTING_READY].likely == pytest.approx(5 / 3)
    assert told[PUTTING_TOGETHER] == exactly(2)
    assert with_pace_told(shop, {GETTING_READY: ["half"] * 2}).pace == shop.pace


def test_of_several_that_are_needed_the_fewest_hours_count():
    """Sixty minutes of one and thirty of the other: 60 minutes of work take two Saturdays."""
    weeks = {"a": (None,) * 5 + (60, None), "b": (None,) * 5 + (30, None)}
    days = frozenset(saturday(n) for n in range(50))
    resources = [Resource(name=name, days=days, hours=week) for name, week in weeks.items()]
    shop = workshop(job("both", 60, needs=needing(a=1, b=1)), resources=resources)
    assert forecast(shop, runs=1).whole.half == saturday(1)
