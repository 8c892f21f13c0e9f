"""Dates of a forecast, what decides them, what they hang on, and what is missing or assumed."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from parts.domain.chances import Chances
from parts.domain.forecast import day_of_share, forecast, ranks
from parts.domain.forecast_rows import Away, Find, Hold, Resource, ThreePoint
from tests.parts.domain.workshops import TODAY, exactly, job, needing, saturday, workshop
from tests.tables import for_each


def beta_quantile(share: float) -> float:
    """Of the PERT-beta distribution (100, 300, 1400), by scipy."""
    from scipy.special import betaincinv  # takes as long to load as twenty files of tests

    return 100 + 1300 * betaincinv(1 + 4 * 200 / 1300, 1 + 4 * 1100 / 1300, share)


def test_dates_where_nothing_is_uncertain():
    found = forecast(
        workshop(job("frames", 250, subassembly="F"), job("wheel", 100, ["frames"], subassembly="W")), runs=10
    )
    assert (found.subassemblies["F"].half, found.subassemblies["F"].nine_in_ten) == (saturday(2), saturday(2))
    assert (found.whole.one_in_ten, found.whole.half, found.whole.nine_in_ten) == (saturday(3),) * 3
    assert found.missing == ()


def test_half_and_nine_in_ten_are_days_by_which_that_many_are_done():
    days = TODAY.toordinal() + np.array([5, 1, 2, 3, 4, 6, 7, 8, 9, 10])
    assert day_of_share(days, 5) == TODAY + timedelta(5)
    assert day_of_share(days, 9) == TODAY + timedelta(9)


def test_quantiles_against_the_distribution():
    """One job, PERT-beta (100, 300, 1400), a day of one minute each: its quantiles are those of scipy's beta."""
    minutes = ThreePoint(100, 300, 1400)
    shop = workshop(job("a", minutes), saturdays=1500, minutes=1)
    found = forecast(shop, runs=20_000).whole
    for ours, share in ((found.one_in_ten, 0.1), (found.half, 0.5), (found.nine_in_ten, 0.9)):
        assert (ours - TODAY).days / 7 == pytest.approx(beta_quantile(share), rel=0.03)


def test_the_later_of_two_is_later_than_either():
    """Two alike side by side: both are done by the day d in F(d)² of the runs (order statistics)."""
    minutes = ThreePoint(100, 300, 1400)
    found = forecast(workshop(job("a", minutes), job("b", minutes), saturdays=1500, minutes=1), runs=20_000).whole
    assert (found.half - TODAY).days / 7 == pytest.approx(beta_quantile(0.5**0.5), rel=0.03)


def test_five_in_a_row_published():
    """A published trial: five PERT-beta (3, 5, 7) in a row have a mean of 24.99 in 20,000 runs, and 50.11 in 100 are
    done by 25 (vortarus). The mean is exactly 25 and half are, by symmetry."""
    drawn = sum(Chances(1, 20_000).three_point(f"task {n}", ThreePoint(3, 5, 7)) for n in range(5))
    assert drawn.mean() == pytest.approx(25, abs=4 * drawn.std() / 20_000**0.5)
    assert (drawn <= 25).mean() == pytest.approx(0.5, abs=4 * 0.5 / 20_000**0.5)
    assert 0 < abs(drawn.mean() - 25)


def test_a_branch_that_is_always_later_decides():
    found = forecast(workshop(job("boiler", 900), job("tender", 100), job("join", 10, ["boiler", "tender"])), runs=50)
    assert [(each.name, each.share) for each in found.whole.decided_by] == [("boiler", 1), ("join", 1)]


def test_two_alike_decide_half_the_runs_each():
    minutes = ThreePoint(100, 500, 900)
    found = forecast(workshop(job("left", minutes), job("right", minutes), saturdays=400, minutes=1), runs=4000)
    shares = {each.name: each.share for each in found.whole.decided_by}
    assert shares["left"] + shares["right"] == pytest.approx(1)
    assert shares["left"] == pytest.approx(0.5, abs=0.04)


def test_parts_of_one_job_are_told_as_one():
    """Either part is the later one in half of the runs; the job that they are parts of always is."""
    minutes = ThreePoint(100, 500, 900)
    parts = [job(f"clean cab, part {n}", minutes, part_of="clean cab") for n in (1, 2)]
    found = forecast(
        workshop(*parts, job("join", 10, [part.name for part in parts]), saturdays=400, minutes=1), runs=50
    )
    assert [(each.name, each.share) for each in found.whole.decided_by] == [("clean cab", 1), ("join", 1)]
    assert [each.what for each in found.whole.hangs_on] == ["clean cab"]


def test_what_waited_for_the_machine_says_so_and_names_no_work_elsewhere():
    """By hand: boring goes first, since fitting follows; turning waits for the lathe and decides its own."""
    jobs = [job("turn", 300, subassembly="B", needs={"lathe": 1}), job("bore", 100, needs={"lathe": 1})]
    found = forecast(workshop(*jobs, job("fit", 500, ["bore"]), resources=["lathe"]), runs=20)
    assert [each.name for each in found.whole.decided_by] == ["fit", "bore"]
    assert [each.name for each in found.subassemblies["B"].decided_by] == ["turn", "Waiting for lathe"]


def test_of_two_ready_for_the_same_opening_the_later_day_decides():
    """The work ends at closing on Saturday, the casting comes on Wednesday: both are ready next Saturday."""
    casting = Away(name="casting", subassembly="A", firm="foundry", promised=date(2027, 1, 6))
    found = forecast(workshop(job("work", 100), casting, job("join", 10, ["work", "casting"])), runs=5)
    assert {each.name for each in found.whole.decided_by} == {"casting", "join"}


def test_releases_by_outside_bodies_are_told_apart():
    holds = [
        Hold(name=name, subassembly="A", days=exactly(60), outside=name == "insurer") for name in ("insurer", "ours")
    ]
    found = forecast(workshop(holds[0], replace(holds[1], after=("insurer",))), runs=5)
    assert {each.name: each.outside for each in found.whole.decided_by} == {"insurer": True, "ours": False}


def test_a_part_counts_into_what_it_is_part_of():
    parts = [job("springs", 300, subassembly="A.1"), job("hangers", 100, subassembly="A")]
    found = forecast(workshop(*parts, part_of={"A.1": "A"}), runs=5).subassemblies
    assert (found["A"].half, found["A.1"].half) == (saturday(2), saturday(2))


def test_more_subassemblies_than_bits():
    jobs = [job(f"j{n}", 100 * (n % 5 + 1), subassembly=f"S{n}") for n in range(150)]
    found = forecast(workshop(*jobs), runs=5).subassemblies
    assert [found[f"S{n}"].half for n in range(150)] == [saturday(n % 5) for n in range(150)]
    assert [found[f"S{n}"].decided_by[0].name for n in range(150)] == [f"j{n}" for n in range(150)]


def test_it_hangs_on_the_firm_where_the_firm_is_the_most_uncertain():
    tyres = Away(name="tyres", subassembly="A", firm="forge", promised=date(2027, 6, 1))
    shop = workshop(
        tyres,
        job("shrink on", ThreePoint(80, 100, 130), ["tyres"]),
        job("elsewhere", ThreePoint(10, 20, 30), subassembly="B"),
        late={"forge": ThreePoint(0, 60, 365)},
    )
    found = forecast(shop, runs=1000)
    assert found.whole.hangs_on[0].what == "lateness of forge"
    assert found.whole.hangs_on[0].correlation > 0.95
    assert "elsewhere" not in {each.what for each in found.whole.hangs_on}
    assert {each.what for each in found.subassemblies["B"].hangs_on} <= {"elsewhere"}


def test_more_hands_make_it_earlier():
    jobs = [job(f"j{n}", 100, needs=needing(hands=1)) for n in range(40)]
    found = forecast(workshop(*jobs, hands=ThreePoint(1, 4, 10)), runs=500).whole
    assert [(each.what, each.correlation < -0.9) for each in found.hangs_on] == [("hands", True)]
    assert forecast(workshop(*jobs, hands=ThreePoint(3, 6, 12)), runs=500).whole.half < found.half


def test_a_rank_is_the_mean_of_the_places_that_equal_ones_take():
    """The definition (Spearman 1904), with ties, as finds and hands have them."""
    values = np.random.default_rng(5).integers(0, 6, 300)
    in_order = sorted(values)
    places = {one: [at for at, other in enumerate(in_order, 1) if other == one] for one in in_order}
    assert ranks(values) == pytest.approx([sum(places[one]) / len(places[one]) for one in values])


def test_rank_correlation_against_a_worked_example():
    """Ten people's IQ and hours before the television, a textbook's example: the squares of the differences between
    their ranks come to 194, so the correlation is 1 - 6 x 194 / (10 x 99)."""
    iq = np.array([106, 100, 86, 101, 99, 103, 97, 113, 112, 110])
    hours = np.array([7, 27, 2, 50, 28, 29, 20, 12, 6, 17])
    assert np.corrcoef(ranks(iq), ranks(hours))[0, 1] == pytest.approx(1 - 6 * 194 / 990)


@for_each(
    ("shop", "entered"),
    [
        (workshop(job("a"), hands=None), "Enter how many people are in on a usual day."),
        (workshop(job("a"), hands=exactly(0)), "Enter how many people are in on a usual day."),
        (workshop(job("a"), saturdays=0), "Enter the days on which the workshop is open."),
        (workshop(job("a", None)), "Guess the work left on A."),
        (workshop(job("a", needs={"crane": 1})), "Enter who or what does crane: a needs it."),
        (workshop(job("a", needs={"L": 2}), resources="L"), "Enter more of L: a needs 2, and there is 1."),
        (
            workshop(job("a", needs={"L": 1}), resources=[Resource(name="L", days=frozenset())]),
            "Enter the days on which L is in: a needs it.",
        ),
        (
            workshop(
                job("a", needs={"L": 1, "M": 1}),
                resources=[Resource(name=name, days=frozenset([saturday(n)])) for n, name in enumerate("LM")],
            ),
            "Enter a day on which all are in whom a needs.",
        ),
    ],
)
def test_what_is_missing_is_said_instead_of_a_date(shop, entered):
    found = forecast(shop, runs=5)
    assert found.missing == (entered,)
    assert (found.whole, found.subassemblies, found.assumes) == (None, {}, ())


def test_days_that_have_passed_are_no_days():
    shop = replace(workshop(job("a")), today=saturday(200))
    assert forecast(shop, runs=5).missing == ("Enter the days on which the workshop is open.",)


def test_nothing_open_has_no_date_and_lacks_nothing():
    found = forecast(workshop(), runs=5)
    assert (found.whole, found.missing, found.subassemblies) == (None, (), {})


def test_what_ends_beyond_the_days_known_has_no_date():
    found = forecast(workshop(job("a", 250), job("b", 50), saturdays=2), runs=5)
    assert found.whole.half is None
    waits = Hold(name="release", subassembly="A", days=exactly(30), after=("a",))
    assert forecast(workshop(job("a", 50), waits, job("c", 10, ["release"]), saturdays=2), runs=5).whole.half is None


def test_what_it_assumes_is_said():
    late = Away(name="tyres", subassembly="A", firm="Forge", promised=date(2026, 12, 1))
    unordered = Away(name="brasses", subassembly="A", firm="Foundry", ordered=date(2027, 3, 1), days=exactly(30))
    look = job("Look at the axleboxes", find=Find(kind="axlebox", found=3, looked=6, loop=(job("metal"),)))
    guessed = job("Look at the tubes", find=Find(kind="tube", guess=0.25, loop=(job("tube"),)))
    assert forecast(workshop(late, unordered, look, guessed, hands=ThreePoint(4, 6, 9)), runs=5).assumes == (
        "The workshop is open 1.0 days a week.",
        "6 people are in on a usual day, 4 on a poor one and 9 on a good one.",
        "Forge promised tyres for 1 Dec 2026 and is late. The forecast counts the usual delay from today.",
        "Nobody has promised a day for brasses. The forecast counts from 1 Mar 2027.",
        "Axlebox: a look finds something in 50 of 100 cases: of 6 looked at, 3 needed work.",
        "Tube: a look finds something in 25 of 100 cases, which is a guess.",
    )
