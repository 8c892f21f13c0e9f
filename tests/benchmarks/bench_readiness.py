"""Readiness of one locomotive: 20,000 places of 100,000 in the register.

Floor: a raw GROUP BY over the covering index (locomotive, subassembly, needed first, standing, need), its rows fetched.
Goals: the states of every subassembly, the tree rolled up, within 2 times the floor; the whole page, as the browser
gets it but for the session and the user, within 2.5 times. Where nothing has changed since the browser's copy, a 304
within 2 times an empty view. What sets most free, loaded and put in order, within 3 times readiness. Each is the least
time of this process in many rounds run in turn. Before each a piece is dealt with, so that nothing kept of a page fits
the next.

    python tests/benchmarks/bench_readiness.py [positions of each locomotive] [locomotives]
"""

import os
import sys
import tempfile
import time
import types
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

RAW = """SELECT subassembly_id, standing, need, needed_first, COUNT(*) FROM parts_position
WHERE locomotive_id = %s GROUP BY subassembly_id, needed_first, standing, need"""
ROUNDS = 30


def main(positions: int, locomotives: int) -> None:
    with tempfile.TemporaryDirectory(prefix="cotter-bench-") as folder:
        prepare(folder)
        from django.core.management import call_command

        from tests.benchmarks.generating import generate_several

        call_command("migrate", verbosity=0)
        call_command("collectstatic", verbosity=0, interactive=False)
        generate_several(positions=positions, locomotives=locomotives)
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

    from core.models import Person
    from parts.day.setting_free_context import SettingFree
    from parts.models import Locomotive
    from parts.queries.assembly_order import load_order
    from parts.queries.readiness import load_now, tallies
    from parts.readiness.views.locomotive import locomotive as page
    from workshop.serving.server import keep_what_is_loaded

    engine, today = Locomotive.objects.order_by("pk").first(), timezone.localdate()
    person, _ = Person.objects.get_or_create(username="bench")
    person.groups.set(Group.objects.filter(name="works manager"))
    request = RequestFactory().get(f"/l/{engine.slug}/")
    request.user, request.session = person, {"locomotive": engine.slug}
    client = with_an_empty_page(person)
    name = client.get(f"/l/{engine.slug}/")["ETag"]

    order, _ = load_order(engine.pk)

    def raw():
        with connection.cursor() as cursor:
            return cursor.execute(RAW, [engine.pk]).fetchall()

    ways = {
        "raw GROUP BY": raw,
        "the counts": lambda: tallies(engine.pk),
        "the counts, tree rolled up": lambda: rolled_up(tallies(engine.pk), order),
        "readiness: order, waits, holds": lambda: load_now(engine, today).readiness(),
        "what sets most free": lambda: SettingFree(load_now(engine, today)),
        "the whole page": lambda: page(request, engine.slug),
        "nothing changed: a 304": lambda: client.get(f"/l/{engine.slug}/", headers={"If-None-Match": name}),
        "an empty view": lambda: client.get("/empty/"),
    }
    assert ways["nothing changed: a 304"]().status_code == 304
    keep_what_is_loaded()
    best = in_turn(ways, between=dealing_with(engine))
    floor = best["raw GROUP BY"]
    goals = {"the counts, tree rolled up": 2, "the whole page": 2.5}
    print(f"{positions} places of {positions * locomotives}, {engine.subassemblies.count()} subassemblies")
    for name, took in best.items():
        goal = f"  (goal {goals[name]})" if name in goals else ""
        print(f"  {name:28} {took * 1000:7.2f} ms   ratio {took / floor:5.2f}{goal}")
    free = best["what sets most free"] / best["readiness: order, waits, holds"]
    print(
        f"what sets most free takes {free:.1f} times readiness (goal 3), {best['what sets most free'] / floor:.1f} raw"
    )
    print(f"a 304 is {best['nothing changed: a 304'] / best['an empty view']:.1f} times an empty view (goal 2)")


def rolled_up(counts, order):
    """What each subassembly and all below it come to, from the counts alone."""
    from parts.domain.readiness import _branches

    return _branches({id: each.tally.progress() for id, each in counts.items()}, order)


def with_an_empty_page(person):
    """A signed-in client, and beside the real addresses one whose view does nothing: both go through all middleware."""
    from django.conf import settings
    from django.http import HttpResponse
    from django.test import Client
    from django.urls import include, path

    urls = types.ModuleType("bench_urls")
    urls.urlpatterns = [
        path("empty/", lambda request: HttpResponse(request.user.pk)),
        path("", include("workshop.urls")),
    ]
    sys.modules["bench_urls"], settings.ROOT_URLCONF = urls, "bench_urls"
    client = Client(HTTP_HOST="localhost")
    client.force_login(person)
    return client


def dealing_with(engine):
    """One blocked place after the other, in every subassembly, is refitted: that changes most on the page."""
    places = engine.positions.filter(standing="blocked").order_by("name", "pk").values_list("pk", flat=True)
    one_by_one = iter(list(places))
    return lambda: engine.positions.filter(pk=next(one_by_one)).update(standing="refitted", need="")


def in_turn(ways: dict, between=lambda: None) -> dict[str, float]:
    best = dict.fromkeys(ways, float("inf"))
    for _ in range(ROUNDS):
        for name, way in ways.items():
            between()
            start = time.process_time()
            way()
            best[name] = min(best[name], time.process_time() - start)
    return best


if __name__ == "__main__":
    given = sys.argv[1:3]
    main(*map(int, given + ["20000", "5"][len(given) :]))
