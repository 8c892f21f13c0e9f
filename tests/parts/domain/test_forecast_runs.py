"""Runs of a forecast: what they equal where nothing is uncertain, and that each is a schedule that could be kept."""

import random
from datetime import date, timedelta
from unittest import mock

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.domain.forecast_rows import Away, Find, Hold, Resource, ThreePoint
from parts.domain.forecast_runs import plan_of, run
from parts.domain.network import critical_path, queue_schedule
from parts.domain.opening import BEYOND
from tests.parts.domain.schedules import length_of
from tests.parts.domain.workshops import TODAY, exactly, job, needing, saturday, workshop


@pytest.fixture(scope="module", autouse=True)
def a_short_search():
    """How good the order of work is, test_network.py proves; what is proved here holds of any."""
    with mock.patch("parts.domain.scheduling.PLACINGS", 10_000):
        yield


def runs_of(shop, runs=1, seed=1):
    return run(plan_of(shop), runs=runs, seed=seed)


def done_on(shop, name, **more):
    found = runs_of(shop, **more)
    index = [step.work.name for step in found.plan.steps].index(name)
    return [date.fromordinal(int(day)) for day in found.day[index]]


def made_up(seed, count, spread=1):
    """Jobs with some spread, few hands and one of each machine, and their rows for `queue_schedule`."""
    chance = random.Random(seed)
    jobs = []
    for number in range(count):
        after = (
            {f"j{chance.randrange(max(0, number - 15), number)}" for _ in range(chance.choice((0, 1, 2)))}
            if number
            else ()
        )
        needs = needing(hands=chance.randint(1, 4)) | ({chance.choice("LMN"): 1} if chance.random() < 0.5 else {})
        least = chance.randint(1, 300)
        points = ThreePoint(least, least + spread * chance.randint(0, 200), least + spread * 200 * chance.randint(1, 4))
        jobs.append(job(f"j{number}", points if spread else least, sorted(after), needs=needs))
    return jobs


CAPACITIES = {"hands": 5, "L": 1, "M": 1, "N": 1}


def rows_of(jobs, minutes):
    return [(each.name, minutes[each.name], list(each.after), dict(each.needs)) for each in jobs]


@given(st.integers(0, 10**6))
def test_with_nothing_uncertain_and_no_limit_it_is_the_critical_path(seed):
    jobs = [job(each.name, each.minutes, each.after) for each in made_up(seed, 30, spread=0)]
    found = runs_of(workshop(*jobs), runs=2)
    path = critical_path((each.name, *map(int, each.minutes), each.after) for each in jobs)
    for run_number in (0, 1):
        starts = found.starts(run_number)
        assert starts == {name: times.earliest_start for name, times in path.activities.items()}
    assert set(found.finish.max(axis=0)) == {path.length}


@pytest.mark.parametrize(("seed", "count"), [*((seed, 25) for seed in range(4)), (1, 120)])
def test_with_no_spread_and_everybody_in_it_is_the_queue_schedule_start_by_start(seed, count):
    jobs = made_up(seed, count, spread=0)
    shop = workshop(*jobs, hands=exactly(5), resources="LMN", saturdays=3000)
    starts = queue_schedule(rows_of(jobs, {each.name: int(each.minutes.likely) for each in jobs}), CAPACITIES)
    assert runs_of(shop).starts() == starts


@pytest.mark.parametrize("seed", range(2))
def test_each_run_is_a_schedule_that_can_be_kept(seed):
    """The order and the capacities are checked by code that knows nothing of how the runs are made."""
    jobs = made_up(seed, 60)
    found = runs_of(workshop(*jobs, hands=exactly(5), resources="LMN", saturdays=3000), runs=20, seed=seed)
    for number in range(20):
        starts = found.starts(number)
        names = [step.work.name for step in found.plan.steps]
        minutes = dict(zip(names, (found.finish - found.start)[:, number].tolist(), strict=True))
        length_of(rows_of(jobs, minutes), CAPACITIES, starts)


def test_one_of_each_worked_by_hand():
    """Two axles for one lathe and one fitter. Turn the one that takes longer to fit first: 50 + 120, with the other
    turned meanwhile (50 to 90) and fitted from 170 to 200."""
    jobs = [
        job("turn leading", 40, needs={"lathe": 1}),
        job("fit leading", 30, ["turn leading"], needs={"fitter": 1}),
        job("turn driving", 50, needs={"lathe": 1}),
        job("fit driving", 120, ["turn driving"], needs={"fitter": 1}),
    ]
    starts = runs_of(workshop(*jobs, resources=("lathe", "fitter"))).starts()
    assert starts == {"turn leading": 50, "fit leading": 170, "turn driving": 0, "fit driving": 50}


def test_a_short_job_goes_in_front_where_it_delays_nobody():
    """The lathe is booked for a job that waits until the fourth Saturday for a casting; the other is served before."""
    casting = Away(name="casting", subassembly="A", firm="foundry", promised=saturday(3))
    shop = workshop(casting, job("bore", 100, ["casting"], needs={"lathe": 1}), job("turn", 100, needs={"lathe": 1}),
                    resources=["lathe"])  # fmt: skip
    assert runs_of(shop).starts() == {"casting": 0, "turn": 0, "bore": 300}


def test_jobs_carry_over_closing():
    assert done_on(workshop(job("a", 100)), "a") == [saturday(0)]
    assert done_on(workshop(job("a", 101)), "a") == [saturday(1)]
    assert done_on(workshop(job("a", 60), job("b", 60, ["a"])), "b") == [saturday(1)]


def test_who_is_in_on_some_days_works_on_those():
    """In on every third Saturday: 150 minutes from the first take that one whole and half of the next such."""
    checker = Resource(name="checker", days=frozenset(saturday(number) for number in range(1, 100, 3)))
    shop = workshop(job("check", 150, needs={"checker": 1}), job("then", 10, ["check"]), resources=[checker])
    found = runs_of(shop)
    assert found.starts() == {"check": 100, "then": 450}
    assert done_on(shop, "check") == [saturday(4)]


@given(st.integers(0, 10**6))
@settings(max_examples=25)
def test_minutes_of_who_is_in_are_counted_one_by_one(seed):
    """Against counting minute by minute over the days on which all are in whom a job needs."""
    chance = random.Random(seed)
    there = {name: frozenset(saturday(n) for n in range(30) if chance.random() < 0.5) for name in "PQ"}
    needs = {name: 1 for name in "PQ" if chance.random() < 0.7} or {"P": 1}
    together = frozenset.intersection(*(there[name] for name in needs))
    minutes = chance.randint(1, 60)
    open_minutes = [minute for minute in range(300) if saturday(minute // 10) in together]
    if len(open_minutes) < minutes:
        return
    shop = workshop(
        job("a", minutes, needs=needs),
        resources=[Resource(name=name, days=days) for name, days in there.items()],
        saturdays=30,
        minutes=10,
    )
    found = runs_of(shop)
    assert (found.start[0, 0], found.finish[0, 0]) == (open_minutes[0], open_minutes[minutes - 1] + 1)


def test_who_is_in_no_more_has_no_day():
    """In today alone, for 100 minutes: what is left over has no date, and nothing is done in the past."""
    checker = Resource(name="checker", days=frozenset([saturday(0)]))
    jobs = [job("one", 100, needs={"checker": 1}), job("two", 50, ["one"], needs={"checker": 1})]
    found = runs_of(workshop(*jobs, resources=[checker], saturdays=3))
    assert found.finish[0, 0] == 100
    assert found.start[1, 0] >= 300
    assert found.day[1, 0] == BEYOND


def test_what_takes_no_time_is_done_on_the_day_of_what_it_waits_for():
    wednesday = date(2027, 1, 6)
    casting = Away(name="casting", subassembly="A", firm="foundry", promised=wednesday)
    assert done_on(workshop(casting, job("all here", 0, ["casting"])), "all here") == [wednesday]


def test_a_promise_is_kept_as_late_as_that_firm_usually_is():
    tyres = Away(name="tyres", subassembly="A", firm="forge", promised=date(2027, 2, 1))
    shop = workshop(tyres, job("shrink on", 10, ["tyres"]))
    assert done_on(shop, "tyres") == [date(2027, 2, 1)]
    assert done_on(shop, "shrink on") == [date(2027, 2, 6)]
    late = workshop(tyres, late={"forge": exactly(30)})
    assert done_on(late, "tyres") == [date(2027, 3, 3)]


def test_a_promise_in_the_past_was_not_kept():
    tyres = Away(name="tyres", subassembly="A", firm="forge", promised=date(2026, 10, 1))
    assert done_on(workshop(tyres), "tyres") == [TODAY + timedelta(1)]
    assert done_on(workshop(tyres, late={"forge": exactly(30)}), "tyres") == [TODAY + timedelta(30)]


def test_what_nobody_has_ordered_starts_on_the_day_assumed_or_when_its_turn_comes():
    def tyres(**more):
        return Away(name="tyres", subassembly="A", firm="forge", days=exactly(14), **more)

    assert done_on(workshop(tyres(ordered=date(2027, 3, 1))), "tyres") == [date(2027, 3, 15)]
    assert done_on(workshop(tyres()), "tyres") == [TODAY + timedelta(14)]
    measured = job("measure", 250)
    assert done_on(workshop(measured, tyres(after=("measure",))), "tyres") == [saturday(2) + timedelta(14)]


def test_a_hold_point_takes_the_asking_time_from_the_day_on_which_it_can_be_asked():
    hold = Hold(name="release", subassembly="A", days=exactly(10), after=("test",), outside=True)
    shop = workshop(job("test", 100), hold, job("lag", 10, ["release"]))
    assert done_on(shop, "release") == [saturday(0) + timedelta(10)]
    assert done_on(shop, "lag") == [saturday(2)]


def test_a_find_brings_its_whole_loop_before_what_comes_after():
    def shop(guess):
        loop = (job("metal"), job("machine", 50))
        look = job("look", 10, find=Find(kind="axlebox", guess=guess, loop=loop))
        return workshop(look, job("fit", 10, ["look"]))

    assert runs_of(shop(1)).starts() == {"look": 0, "metal": 10, "machine": 110, "fit": 160}
    assert runs_of(shop(0)).starts() == {"look": 0, "metal": 10, "machine": 10, "fit": 10}


def shares_of_finds(find, looks, runs=40_000):
    work = [job(f"look {n}", 1, find=Find(kind="axlebox", loop=(job(f"mend {n}"),), **find)) for n in range(looks)]
    found = runs_of(workshop(*work), runs=runs)
    return np.array([found.drawn[f"a find at look {n}"] for n in range(looks)])


def test_the_chance_of_a_find_is_that_of_the_log():
    """(found + 1) / (looked + 2), Laplace 1774; of 40,000 runs within four standard errors."""
    share = shares_of_finds({"found": 7, "looked": 10}, 1).mean()
    assert share == pytest.approx(8 / 12, abs=4 * (8 / 12 * 4 / 12 / 40_000) ** 0.5)
    assert shares_of_finds({"guess": 0.25}, 1).mean() == pytest.approx(0.25, abs=0.01)


def test_finds_of_a_kind_come_together():
    """With nothing in the log, two looks both find something in 1/3 of the runs (Bayes 1763), not in a quarter."""
    both = shares_of_finds({}, 2).all(axis=0).mean()
    assert both == pytest.approx(1 / 3, abs=0.01)


def test_pace_is_drawn_once_a_run_and_kind():
    """Ten jobs of a kind, one after the other, are all slow together: the whole is as uncertain as any of them."""
    points = {"pace": {"clean": ThreePoint(1, 2, 3)}}
    jobs = [job(f"j{n}", 100, [f"j{n - 1}"] if n else [], kind="clean") for n in range(10)]
    length = runs_of(workshop(*jobs, **points), runs=4000).finish.max(axis=0)
    one = runs_of(workshop(jobs[0], **points), runs=4000).finish.max(axis=0)
    assert length.std() / length.mean() == pytest.approx(one.std() / one.mean(), rel=0.01)


def test_too_few_hands_take_longer():
    """A job for four on a day with two takes twice as long; nobody's run stands still for ever."""
    lift = job("lift", 60, needs=needing(hands=4))
    assert runs_of(workshop(lift, hands=exactly(2))).finish.max() == 120


def test_more_resources_than_one_word_of_bits():
    machines = [f"m{n}" for n in range(60)]
    jobs = [job(f"{name} {n}", 10, needs={name: 1, "hands": 1}) for name in machines for n in range(2)]
    found = runs_of(workshop(*jobs, hands=exactly(120), resources=machines))
    assert found.finish.max() == 20
    assert (found.start == 0).sum() == 60


@pytest.mark.parametrize(
    ("work", "sentence"),
    [
        ([job("a", after=["b"]), job("b", after=["a"])], "loop: 'a' goes on after 'b'"),
        ([job("a", after=["z"])], "'a' goes on after 'z', which is not among"),
        ([job("a"), job("a")], "'a' is given twice"),
        ([job("a", ThreePoint(3, 2, 5))], "three guesses of a are out of order: 3, 2, 5"),
    ],
)
def test_work_that_cannot_be_done_is_refused_in_words(work, sentence):
    with pytest.raises(ValueError, match=sentence):
        runs_of(workshop(*work))


def test_finds_that_cannot_be_are_refused():
    with pytest.raises(ValueError, match="Of 3 axlebox looked at, 4 cannot"):
        Find(kind="axlebox", loop=(), found=4, looked=3)
    with pytest.raises(ValueError, match="not between 0 and 1"):
        Find(kind="axlebox", loop=(), guess=1.5)


def test_the_same_seed_gives_the_same():
    shop = workshop(*made_up(3, 20), resources="LMN", saturdays=3000)
    first, again, other = (runs_of(shop, runs=600, seed=seed).finish for seed in (1, 1, 2))
    assert (first == again).all()
    assert (first != other).any()


def test_one_thing_more_leaves_the_luck_of_all_others():
    jobs = made_up(3, 20)
    without, with_it = (
        runs_of(workshop(*work, resources="LMN"), runs=50).drawn for work in (jobs, [job("paint"), *jobs])
    )
    assert with_it.keys() - without.keys() == {"paint"}
    assert all((with_it[what] == without[what]).all() for what in without)


def test_progress_is_told_to_the_end():
    told = []
    run(plan_of(workshop(job("a"))), runs=1200, seed=1, progress=lambda done, of: told.append((done, of)))
    assert told[-1] == (1200, 1200)
    assert len(told) > 1


def test_it_makes_no_difference_how_many_runs_are_worked_out_together(monkeypatch):
    shop = workshop(*made_up(5, 60), resources="LMN", saturdays=3000)
    together = runs_of(shop, runs=40)
    monkeypatch.setattr("parts.domain.forecast_runs.CHUNK", 7)
    apart = runs_of(shop, runs=40)
    assert (together.finish == apart.finish).all()
    assert (together.by == apart.by).all()
