"""The earliest time in a queue, in many runs at once, against counting minute by minute."""

import random

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.queues import Fields, Queues

CAPACITIES = {"hands": 5, "lathe": 1, "hoist": 2}
MINUTES = 400


class Minutes:
    """One run, written down minute by minute."""

    def __init__(self, capacities):
        self.free = {name: [units] * MINUTES for name, units in capacities.items()}

    def claim(self, ready, minutes, needs):
        start = next(
            at
            for at in range(ready, MINUTES)
            if all(min(self.free[name][at : at + minutes], default=9) >= units for name, units in needs.items())
        )
        for name, units in needs.items():
            for at in range(start, start + minutes):
                self.free[name][at] -= units
        return start


@given(st.integers(0, 10**6))
def test_each_run_takes_the_earliest_time_that_fits(seed):
    chance = random.Random(seed)
    hands = [chance.randint(3, 5) for _ in range(4)]
    queues = Queues(Fields(CAPACITIES), CAPACITIES | {"hands": np.array(hands)}, 4)
    by_minute = [Minutes(CAPACITIES | {"hands": count}) for count in hands]
    for _ in range(25):
        needs = {name: chance.randint(1, min(units, 3)) for name, units in CAPACITIES.items() if chance.random() < 0.6}
        ready, minutes = ([chance.randint(0, most) for _ in hands] for most in (60, 12))
        start, finish = queues.claim(np.array(ready, np.int32), np.array(minutes, np.int32), needs, None)
        assert start.tolist() == [run.claim(*of, needs) for run, *of in zip(by_minute, ready, minutes, strict=True)]
        assert (finish - start).tolist() == minutes


def test_what_is_forgotten_counts_as_taken():
    """So many jobs that the earliest moments are forgotten: later ones go behind, and never on top of each other."""
    queues = Queues(Fields({"lathe": 1}), {"lathe": 1}, 1)
    at, five = (np.array([minute], np.int32) for minute in (0, 5))
    ends = [int(queues.claim(at + 20 * number, five, {"lathe": 1}, None)[1][0]) for number in range(200)]
    assert ends == [20 * number + 5 for number in range(200)]
    gap = int(queues.claim(at, five, {"lathe": 1}, None)[0][0])
    assert 0 < gap < ends[-1]
    assert gap % 20 == 5
