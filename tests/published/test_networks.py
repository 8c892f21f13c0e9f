"""Critical paths and schedules against published networks; each test names its source."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from parts.domain.network import critical_path, queue_schedule
from tests.parts.domain.schedules import length_of

HERE = Path(__file__).parent


def rows_of(name):
    with open(HERE / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def three_point(name):
    return [
        (
            row["activity"],
            *(int(row[time]) for time in ("optimistic", "most_likely", "pessimistic")),
            row["after"].split(),
        )
        for row in rows_of(name)
    ]


def test_fourteen_activities():
    """A published exercise: critical path A-C-E-H-I-K-M-N of 50.83 days, variance 11.194 (standard deviation 3.346)."""
    found = critical_path(three_point("pert_14_activities.csv"))
    assert found.critical == list("ACEHIKMN")
    assert found.length == Fraction(305, 6)
    assert float(found.length) == pytest.approx(50.83, abs=0.005)
    assert float(found.variance) == pytest.approx(11.194, abs=0.0005)


PUBLISHED_TIMES = """
A 0.00 5.33 0.00 5.33 0.00
B 0.00 2.33 8.00 10.33 8.00
C 5.33 10.33 5.33 10.33 0.00
D 5.33 13.50 7.17 15.33 1.83
E 10.33 20.00 10.33 20.00 0.00
F 13.50 18.17 15.33 20.00 1.83
G 13.50 19.33 18.50 24.33 5.00
H 20.00 24.33 20.00 24.33 0.00
I 24.33 31.00 24.33 31.00 0.00
J 31.00 35.17 33.50 37.67 2.50
K 31.00 40.83 31.00 40.83 0.00
L 35.17 40.50 37.67 43.00 2.50
M 40.83 43.00 40.83 43.00 0.00
N 43.00 50.83 43.00 50.83 0.00
"""


def test_times_of_the_fourteen_activities():
    """The same exercise, solved on wizedu.com (question 717873): earliest, latest and slack, to two places."""
    found = critical_path(three_point("pert_14_activities.csv")).activities
    for name, *published in map(str.split, PUBLISHED_TIMES.strip().splitlines()):
        times = found[name]
        ours = (times.earliest_start, times.earliest_finish, times.latest_start, times.latest_finish, times.slack)
        assert [float(time) for time in ours] == pytest.approx([float(time) for time in published], abs=0.0051)


def test_eleven_activities():
    """A published exercise. Its path lengths are of rounded times (73); exactly 72 2/3, variance 32.7778 as published.
    The times of single activities are computed from its data."""
    found = critical_path(three_point("pert_11_activities.csv"))
    assert found.length == Fraction(218, 3)
    assert float(found.variance) == pytest.approx(32.7778, abs=0.00005)
    assert found.critical == list("ACDHJK")
    for row in rows_of("pert_11_activities.csv"):
        times = found.activities[row["activity"]]
        ours = (times.expected, times.variance, times.earliest_start, times.latest_finish, times.slack)
        theirs = (row["te"], row["variance"], row["es"], row["lf"], row["float"])
        assert [float(time) for time in ours] == pytest.approx(list(map(float, theirs)), abs=0.00005)


NINE = [
    ("A", 3, ""),
    ("B", 5, "A"),
    ("C", 8, "A"),
    ("D", 10, "B"),
    ("E", 5, "B"),
    ("F", 7, "C"),
    ("G", 12, "D"),
    ("H", 8, "EF"),
    ("I", 3, "GH"),
]
NINE_SOLVED = {
    "A": (0, 3, 0, 3, 0),
    "B": (3, 8, 3, 8, 0),
    "C": (3, 11, 7, 15, 4),
    "D": (8, 18, 8, 18, 0),
    "E": (8, 13, 17, 22, 9),
    "F": (11, 18, 15, 22, 4),
    "G": (18, 30, 18, 30, 0),
    "H": (18, 26, 22, 30, 4),
    "I": (30, 33, 30, 33, 0),
}


def test_nine_activities_with_all_their_times():
    """A published assignment with its solution (scribd.com, document 458251733, example 3): 33 days, floats and all."""
    found = critical_path((name, time, time, time, list(after)) for name, time, after in NINE)
    assert (found.length, found.variance, found.critical) == (33, 0, list("ABDGI"))
    for name, published in NINE_SOLVED.items():
        times = found.activities[name]
        ours = (times.earliest_start, times.earliest_finish, times.latest_start, times.latest_finish, times.slack)
        assert ours == published


def test_ten_activities():
    """A network used in a course on operations management (Pendergrass, OMIS 352; the network itself from memory):
    17 weeks."""
    network = (
        "A4,5,12 B1,1.5,5 C2,3,4:A D3,4,11:A E2,3,4:A F1.5,2,2.5:C G1.5,3,4.5:D H2.5,3.5,7.5:BE I1.5,2,2.5:H J1,2,3:FGI"
    )
    rows = []
    for written in network.split():
        times, _, after = written.partition(":")
        rows.append((times[0], *(Fraction(time) for time in times[1:].split(",")), list(after)))
    assert critical_path(rows).length == 17
    assert critical_path(rows).critical == list("AEHIJ")


def psplib():
    rows = rows_of("j301_1.csv")
    after = {row["job"]: [] for row in rows}
    for row in rows:
        for later in row["followed_by"].split():
            after[later].append(row["job"])
    return [
        (row["job"], int(row["duration"]), after[row["job"]], {r: int(row[r]) for r in ("r1", "r2", "r3", "r4")})
        for row in rows
    ]


def test_thirty_activities_and_four_resources():
    """PSPLIB j30, instance 1_1 (Kolisch and Sprecher, European Journal of Operational Research 96, 1997): 43 is proved
    the best, and 38 the critical path."""
    activities, capacities = psplib(), {"r1": 12, "r2": 13, "r3": 4, "r4": 12}
    assert critical_path((name, time, time, time, after) for name, time, after, _ in activities).length == 38
    assert length_of(activities, capacities, queue_schedule(activities, capacities)) == 43


FT06 = """2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1"""
LA01 = """1 21 0 53 4 95 3 55 2 34
0 21 3 52 4 16 2 26 1 71
3 39 4 98 1 42 2 31 0 12
1 77 0 55 4 79 2 66 3 77
0 83 3 34 2 64 1 19 4 37
1 54 2 43 4 79 0 92 3 62
3 69 4 77 1 87 2 87 0 93
2 38 0 60 1 41 3 24 4 83
3 17 1 49 4 25 0 44 2 98
4 77 3 79 2 43 1 75 0 96"""


@pytest.mark.parametrize(
    ("shop", "best"),
    [
        pytest.param(FT06, 55, id="Fisher and Thompson 1963, six jobs, six machines"),
        pytest.param(LA01, 666, id="Lawrence 1984, ten jobs, five machines"),
    ],
)
def test_one_of_each_machine(shop, best):
    """Job shops of the literature, each row the machines of one job in turn with their times; the best is proved."""
    activities = []
    for job, row in enumerate(shop.splitlines()):
        steps = list(map(int, row.split()))
        for turn, (machine, time) in enumerate(zip(steps[::2], steps[1::2], strict=True)):
            activities.append(((job, turn), time, [(job, turn - 1)] if turn else [], {machine: 1}))
    machines = {machine: 1 for *_, needs in activities for machine in needs}
    assert length_of(activities, machines, queue_schedule(activities, machines)) == best
