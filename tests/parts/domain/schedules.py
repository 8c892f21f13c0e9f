"""What a schedule must keep to, and the best there is for a small network, both written without the code they judge."""

from functools import cache
from itertools import combinations


def length_of(activities, capacities, starts):
    """The length of a schedule that keeps the order and the capacities; fails on one that does not."""
    finish = {name: starts[name] + time for name, time, *_ in activities}
    assert set(starts) == set(finish)
    for name, _, after, _ in activities:
        assert starts[name] >= max((finish[before] for before in after), default=0)
    for now in starts.values():
        for resource, capacity in capacities.items():
            held = sum(needs.get(resource, 0) for name, _, _, needs in activities if starts[name] <= now < finish[name])
            assert held <= capacity, f"{resource} at {now}"
    return max(finish.values(), default=0)


def shortest_length(activities, capacities):
    """Proved the best for a dozen activities with whole times of 1 or more, by trying every set that can be started at
    each moment at which something ends. Exhaustive: waiting on purpose is tried too."""
    names = [name for name, *_ in activities]
    times = {name: time for name, time, *_ in activities}
    after = {name: frozenset(befores) for name, _, befores, _ in activities}
    needs = {name: needs for name, *_, needs in activities}

    def fits(running):
        return all(sum(needs[name].get(r, 0) for name in running) <= units for r, units in capacities.items())

    @cache
    def left(done, running):
        """The time still needed, with (name, time left) of those that run."""
        busy = {name for name, _ in running}
        if len(done) == len(names):
            return 0
        ready = [name for name in names if name not in done and name not in busy and after[name] <= done]
        best = float("inf")
        for count in range(len(ready) + 1):
            for chosen in combinations(ready, count):
                if (chosen or busy) and fits([*busy, *chosen]):
                    now = [*running, *((name, times[name]) for name in chosen)]
                    step = min(time for _, time in now)
                    ended = done | {name for name, time in now if time == step}
                    still = frozenset((name, time - step) for name, time in now if time > step)
                    best = min(best, step + left(ended, still))
        return best

    return left(frozenset(), frozenset())
