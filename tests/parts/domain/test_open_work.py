"""From counts of places to the work of a forecast. The figures are worked by hand from the rules in `open_work`; the
three-point mean is that of Malcolm and others (Operations Research 7, 1959). The workshops are invented."""

from datetime import date, timedelta

import pytest

from parts.domain.forecast import forecast
from parts.domain.forecast_moves import record
from parts.domain.forecast_rows import HANDS, Away, ForecastJob, Hold, ThreePoint
from parts.domain.forecast_words import DayScale, Kept, told
from parts.domain.open_work import (
    PUTTING_TOGETHER,
    UNKNOWN_ASKING,
    UNKNOWN_LATE,
    UNKNOWN_PACE,
    Guess,
    Hours,
    Log,
    OpenSubassembly,
    Outside,
    Release,
    days_guessed,
    lateness,
    pace,
    workshop_of,
)
from parts.domain.words import Need

TODAY = date(2026, 11, 29)  # a Sunday
SATURDAYS = Hours(week=(0, 0, 0, 0, 0, 480, 0), hands=ThreePoint(4, 4, 4))


def exactly(days: float, *, hands: int = 2, steps: int = 10, on: date = TODAY) -> Guess:
    return Guess(days=ThreePoint(days, days, days), hands=hands, steps=steps, on=on)


def group(code="cab", *, needs=None, ready=0, **more) -> OpenSubassembly:
    return OpenSubassembly(code=code, name=code.title(), needs=needs or {}, ready=ready, **more)


def jobs(*groups, outside=(), releases=(), hours=SATURDAYS, log=None, leave_out=()) -> dict:
    shop = workshop_of(groups, outside, releases, hours, log or Log(), TODAY, leave_out)
    return {work.name: work for work in shop.all_work()}


def test_steps_left_of_a_subassembly():
    cab = group(needs={Need.CLEAN: 2, Need.SIGN: 1, Need.AFTER: 4}, ready=3)
    assert cab.steps == 2 * 4 + 1 * 2 + 4 * 2 + 3
    assert (cab.to_refit, cab.to_look_at) == (10, 2)


def test_a_guess_is_shared_out_over_the_steps():
    """Ten steps in five days of 480 minutes: 240 a step. Two places to refit are two of them, eight are before."""
    work = jobs(group(needs={Need.STRIP: 2}, guess=exactly(5)))
    assert sum(work[f"Get ready: Cab, part {n} of 2"].minutes.likely for n in (1, 2)) == pytest.approx(8 * 240)
    assert work["Put together: Cab"].minutes.likely == pytest.approx(2 * 240)
    assert work["Put together: Cab"].needs == {HANDS: 2}


def test_a_guess_shrinks_as_steps_are_done():
    half_done = group(needs={Need.STRIP: 1}, guess=exactly(5))
    assert days_guessed(half_done, SATURDAYS, Log()) == (ThreePoint(2.5, 2.5, 2.5), 2)
    grown = group(needs={Need.STRIP: 4}, guess=exactly(5))
    assert days_guessed(grown, SATURDAYS, Log()) == (ThreePoint(5, 5, 5), 2)


def test_without_a_guess_the_pace_of_the_works_counts_and_without_either_something_is_missing():
    known = Log(steps=40, open_days=20)
    assert days_guessed(group(needs={Need.CLEAN: 1}), SATURDAYS, known) == (ThreePoint(1.2, 2, 5), 4)
    nothing = forecast(workshop_of([group(needs={Need.CLEAN: 1})], [], [], SATURDAYS, Log(), TODAY), runs=5)
    assert nothing.missing == ("Guess the work left on Cab.",)
    closed = forecast(workshop_of([group(ready=1)], [], [], Hours(), known, TODAY), runs=5)
    assert closed.missing[0] == "Enter the days on which the workshop is open."


def test_what_is_ready_only_goes_together():
    assert list(jobs(group(ready=3, guess=exactly(1)))) == ["Put together: Cab"]
    assert jobs(group()) == {}


def test_it_goes_together_after_what_it_goes_on_after_and_all_parts_of_that():
    frames = group("frames", ready=1, guess=exactly(1))
    horns = group("horns", parent="frames", ready=1, guess=exactly(1))
    wheels = group("wheels", after=("frames",), needs={Need.CLEAN: 1}, guess=exactly(1))
    work = jobs(frames, horns, wheels)
    assert set(work["Put together: Wheels"].after) == {
        "Get ready: Wheels", "Put together: Frames", "Put together: Horns",
    }  # fmt: skip
    assert work["Get ready: Wheels"].after == ()


def test_two_in_a_row_by_hand():
    """Frames 2 days, then the cab 3 days, Saturdays only, nothing uncertain but the pace, which is fixed here by
    reading the expected dates of one run: 5 Saturdays from 5 December end on 2 January."""
    frames = group("frames", ready=10, guess=exactly(2))
    cab = group("cab", ready=10, after=("frames",), guess=exactly(3))
    shop = workshop_of([frames, cab], [], [], SATURDAYS, Log(), TODAY)
    shop = type(shop)(today=TODAY, days=shop.days, hands=shop.hands, work=shop.work)  # without a spread of the pace
    found = forecast(shop, runs=5)
    assert found.subassemblies["frames"].half == date(2026, 12, 12)
    assert found.whole.half == found.whole.nine_in_ten == date(2027, 1, 2)


def test_a_find_brings_three_steps_over_again():
    work = jobs(group(needs={Need.CLEAN: 1, Need.SIGN: 3}, guess=exactly(10), looked=6, found=3))
    look = work["Get ready: Cab"]
    assert (look.find.found, look.find.looked) == (3, 6)
    assert look.find.loop[0].minutes.likely == pytest.approx(3 * 480)
    assert jobs(group(needs={Need.SIGN: 5}, guess=exactly(10)))["Get ready: Cab"].find is None


def test_firms_and_new_pieces_are_waited_for():
    promised = Outside(name="tyre", subassembly="cab", firm="Forge", promised=TODAY + timedelta(9), more=2)
    work = jobs(group(needs={Need.SOURCE: 2, Need.AWAIT: 1}, guess=exactly(1)), outside=[promised])
    assert isinstance(work["tyre"], Away)
    assert work["What comes after: tyre"].after == ("tyre",)
    assert work["What comes after: tyre"].days == ThreePoint(28, 84, 240)
    assert {"tyre", "What comes after: tyre", "New pieces for Cab (2)"} <= set(work["Put together: Cab"].after)


def test_hold_points_stand_before_what_they_stop():
    holds = [
        Release(name="survey", subassembly="cab", stops=("strip", "clean")),
        Release(name="test", subassembly="cab", stops=("refit",), outside=False, asked=TODAY - timedelta(10)),
        Release(name="steam", stops=("close overhaul",)),
    ]
    work = jobs(group(needs={Need.CLEAN: 1}, guess=exactly(1)), releases=holds)
    assert work["Get ready: Cab"].after == ("survey",)
    assert "test" in work["Put together: Cab"].after
    assert isinstance(work["steam"], Hold)
    assert set(work["steam"].after) == set(work) - {"steam", "Mend what is found on Cab"}
    assert work["test"].days == ThreePoint(1, 11, 50)  # ten days of asking have passed


def test_what_is_left_for_later_is_left_out_with_its_parts():
    tender, tank = group("tender", ready=1, guess=exactly(1)), group("tank", parent="tender", ready=1, guess=exactly(1))
    promised = Outside(name="plate", subassembly="tank", firm="Mill")
    assert jobs(tender, tank, outside=[promised], leave_out=["tender"]) == {}


def test_lateness_of_a_firm_is_its_own_record_or_that_of_all():
    log = Log(late={"Forge": [0, 3, 40], "Mill": [10]})
    assert lateness(log, "Forge") == ThreePoint(0, 3, 40)
    assert lateness(log, "Mill") == ThreePoint(0, 6.5, 40)
    assert lateness(Log(late={"Mill": [10]}), "Mill") == UNKNOWN_LATE
    assert UNKNOWN_ASKING.least <= UNKNOWN_ASKING.likely <= UNKNOWN_ASKING.most


def test_pace_is_learnt_from_steps_done_since_the_guess():
    """Guessed: 20 steps in 10 days for two. Ten are done, worth 10 hand-days; five Saturdays with four people are 20:
    twice as slow."""
    on = TODAY - timedelta(35)
    slow = group(needs={Need.STRIP: 2}, guess=exactly(10, steps=20, on=on))
    assert pace([slow], SATURDAYS, TODAY).likely == pytest.approx(2)
    hardly = group(needs={Need.STRIP: 2}, guess=exactly(10, steps=11, on=on))
    assert pace([hardly], SATURDAYS, TODAY) == UNKNOWN_PACE


def test_each_name_is_given_once():
    twice = [group("a", ready=1, guess=exactly(1)), OpenSubassembly(code="b", name="A", ready=1, guess=exactly(1))]
    assert list(jobs(*twice)) == ["Put together: A", "Put together: A (2)"]
    assert all(isinstance(job, ForecastJob) and job.kind == PUTTING_TOGETHER for job in jobs(*twice).values())


def test_days_unlike_their_week():
    holiday, extra = date(2026, 12, 5), date(2026, 12, 7)
    hours = Hours(week=SATURDAYS.week, unusual={holiday: 0, extra: 300}, hands=SATURDAYS.hands)
    assert [(day.date, day.minutes) for day in hours.days(TODAY, 14)] == [(extra, 300), (date(2026, 12, 12), 480)]
    assert Hours().days(TODAY) == ()


# --- telling


def test_beyond_three_months_it_speaks_in_months():
    assert told(TODAY + timedelta(92), TODAY) == "1 Mar 2027"
    assert told(TODAY + timedelta(93), TODAY) == "Mar 2027"
    assert told(None, TODAY) == "later than the known open days"


def test_bars_stand_on_one_scale():
    scale = DayScale(TODAY, [TODAY + timedelta(100), None])
    assert (scale.place(TODAY), scale.place(TODAY + timedelta(50)), scale.place(None)) == (0, 500, 1000)
    assert scale.years() == [(2027, 330)]
    assert scale.bar(TODAY, TODAY, None).open_ended


def test_how_right_earlier_forecasts_were():
    first, second, third = (date(2026, month, 1) for month in (1, 3, 5))
    kept = [
        Kept(first, None, None, {"cab": (date(2026, 2, 1), date(2026, 4, 1)), "horns": (date(2026, 2, 1), None)}),
        Kept(second, None, None, {"horns": (date(2026, 4, 1), None)}),
        Kept(third, None, None, {}),
    ]
    assert [(each.code, each.by_half, each.by_nine_in_ten) for each in record(kept, [], TODAY)] == [
        ("cab", False, True),
        ("horns", False, True),
    ]
    assert record(kept, ["cab", "horns"], TODAY) == []


def test_a_first_forecast_checked_by_hand():
    """Two of a bogie and one of its body to strip, on Saturdays with two people, four days for two people each.

    The bogie takes 4 days, and as much again of 3/5 in half of the looks: 5.2. An unknown pace is (0.8 + 4 + 1.6) / 6,
    a little more than 1 of that: 5.5, so half of the runs are done on the sixth Saturday. The body takes as long, and
    nobody is left over for it before: 11.1, the eleventh or twelfth.
    """
    two = Hours(week=(0, 0, 0, 0, 0, 480, 0), hands=ThreePoint(2, 2, 2))
    bogie = group("bogie", needs={Need.STRIP: 2}, guess=exactly(4))
    body = group("body", needs={Need.STRIP: 1}, after=("bogie",), guess=exactly(4, steps=5))
    found = forecast(workshop_of([bogie, body], [], [], two, Log(), TODAY), runs=2000)
    saturdays = [TODAY + timedelta(6 + 7 * n) for n in range(20)]
    assert found.subassemblies["bogie"].half == saturdays[5]
    assert found.whole.half in saturdays[10:12]
    assert found.whole.decided_by[0].name == "Waiting for people"
    assert {each.name for each in found.subassemblies["bogie"].decided_by} >= {"Put together: Bogie"}
    assert not any("Body" in each.name for each in found.subassemblies["bogie"].decided_by)
