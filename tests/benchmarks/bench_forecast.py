"""A forecast of 2,000 runs over 800 open activities.

Goal: five seconds on two cores, the order of the queues, the dates and what decides them included. Prints the time on
the wall and that of the processors: on a busy machine half of the second, and the order's share, is the truer figure.

    python tests/benchmarks/bench_forecast.py [activities] [runs]
"""

import random
import sys
import time
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from parts.domain.forecast import forecast
from parts.domain.forecast_rows import HANDS, Away, Day, Find, ForecastJob, Hold, Resource, ThreePoint, Workshop

TODAY = date(2027, 1, 2)


def main(activities: int, runs: int) -> None:
    shop = workshop(activities)
    wall, processors = time.perf_counter(), time.process_time()
    found = forecast(shop, runs=runs, progress=lambda done, of: print(f"{done} of {of} runs", file=sys.stderr))
    print(f"{activities} activities, {runs} runs: half by {found.whole.half}, nine in ten by {found.whole.nine_in_ten}")
    print(f"{time.perf_counter() - wall:.2f} s on the wall, {time.process_time() - processors:.2f} s of processors")


def workshop(activities: int) -> Workshop:
    chance = random.Random(1)
    dates = [day for n in range(365 * 14) if (day := TODAY + timedelta(n)).weekday() in (1, 5)]
    machines = [Resource(name=f"m{n}", days=frozenset(dates[::4]) if n == 0 else None) for n in range(10)]
    return Workshop(
        today=TODAY,
        days=tuple(Day(date=day, minutes=420) for day in dates),
        hands=ThreePoint(4, 7, 10),
        work=tuple(activity(chance, n) for n in range(activities)),
        resources=tuple(machines),
        late={f"firm {n}": ThreePoint(0, 20, 90) for n in range(3)},
        pace={f"kind {n}": ThreePoint(0.7, 1, 2) for n in range(5)},
    )


def activity(chance: random.Random, number: int) -> ForecastJob | Away | Hold:
    """One in forty at a firm, one in forty a hold point, one job in twenty a look that may find something."""
    after = sorted({str(chance.randrange(max(0, number - 40), number)) for _ in range(2)}) if number else []
    common = {"name": str(number), "subassembly": f"S{number // 40}", "after": tuple(after)}
    if number % 40 == 7:
        ordered = TODAY + timedelta(chance.randrange(300))
        return Away(**common, firm=f"firm {number % 3}", ordered=ordered, days=ThreePoint(20, 40, 120))
    if number % 40 == 9:
        return Hold(**common, days=ThreePoint(7, 14, 40), outside=True)
    likely = chance.randrange(60, 1500)
    needs = {HANDS: chance.randint(1, 3)} | ({f"m{chance.randrange(10)}": 1} if chance.random() < 0.3 else {})
    find = None
    if number % 20 == 3:
        mend = ForecastJob(name=f"mend {number}", subassembly=common["subassembly"], minutes=ThreePoint(300, 600, 1200))
        find = Find(kind=f"kind {number % 3}", found=2, looked=5, loop=(mend,))
    minutes = ThreePoint(likely // 2, likely, likely * 3)
    return ForecastJob(**common, minutes=minutes, kind=f"kind {number % 5}", needs=needs, find=find)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3] or ()), *(800, 2000)[len(sys.argv) - 1 :])
