"""Readiness of one locomotive: 20,000 places of 100,000 in the register.

Floor: a raw GROUP BY over the covering index (locomotive, subassembly, needed first, standing, need), its rows fetched.
Goals: the states of every subassembly, the tree rolled up, within 2 times the floor; the whole page, as the browser
gets it but for the session and the user, within 2.5 times. Each is the least of many rounds run in turn.

    python tests/benchmarks/bench_readiness.py [positions of each locomotive] [locomotives]
"""

import os
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

RAW = """SELECT subassembly_id, standing, need, needed_first, COUNT(*) FROM parts_position
WHERE locomotive_id = %s GROUP BY subassembly_id, needed_first, standing, need"""
ROUNDS = 30


def main(positions: int, locomotives: int) -> None:
    with tempfile.TemporaryDirectory(prefix="cotter-bench-") as folder:
        prepare(folder)
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        call_command("collectstatic", verbosity=0, interactive=False)
        call_command("generate_works", positions=positions, seed=1, locomotives=locomotives, verbosity=0)
        measure(positions, locomotives)


def prepare(folder: str) -> None:
    os.environ["COTTER_DATA"] = os.environ.get("BENCH_DATA", folder)
    os.environ["COTTER_DEBUG"] = ""
    os.environ["DJANGO_SETTINGS_MODULE"] = "workshop.settings"
    os.environ.pop("DATABASE_URL", None)
    import django

    django.setup()


def measure(positions: int, locomotives: int) -> None:
    from django.contrib.auth.models import Group
    from django.db import connection
    from django.test import RequestFactory
    from django.utils import timezone

    from parts.models import Locomotive
    from parts.standing_now import load_now, tallies
    from parts.views.locomotive import locomotive as page
    from workshop.models import Person

    engine, today = Locomotive.objects.order_by("pk").first(), timezone.localdate()
    person = Person.objects.create(username="bench")
    person.groups.set(Group.objects.filter(name="works manager"))
    request = RequestFactory().get(f"/l/{engine.slug}/")
    request.user, request.session = person, {"locomotive": engine.slug}

    def raw():
        with connection.cursor() as cursor:
            return cursor.execute(RAW, [engine.pk]).fetchall()

    ways = {
        "raw GROUP BY": raw,
        "the counts": lambda: tallies(engine.pk),
        "states of every subassembly": lambda: load_now(engine, today).readiness(),
        "the whole page": lambda: page(request, engine.slug),
    }
    best = in_turn(ways)
    floor = best["raw GROUP BY"]
    goals = {"states of every subassembly": 2, "the whole page": 2.5}
    print(f"{positions} places of {positions * locomotives}, {engine.subassemblies.count()} subassemblies")
    for name, took in best.items():
        goal = f"  (goal {goals[name]})" if name in goals else ""
        print(f"  {name:28} {took * 1000:7.2f} ms   ratio {took / floor:5.2f}{goal}")


def in_turn(ways: dict) -> dict[str, float]:
    best = dict.fromkeys(ways, float("inf"))
    for _ in range(ROUNDS):
        for name, way in ways.items():
            start = time.perf_counter()
            way()
            best[name] = min(best[name], time.perf_counter() - start)
    return best


if __name__ == "__main__":
    given = sys.argv[1:3]
    main(*map(int, given + ["20000", "5"][len(given) :]))
