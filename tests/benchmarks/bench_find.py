"""Finding in a register of 100,000 places: a substring of a drawing number, through the whole view.

Floor: the same words asked of SQLite's index of trigrams alone. Goal: the whole page within 0.2 times what LIKE over
the columns of pieces and places takes. Each is the least of many rounds run in turn. Printed beside it, with no goal of
their own: a word that half the register bears, a mistyped word, the list of a filter, and folding everything anew.

    python tests/benchmarks/bench_find.py [positions of each locomotive] [locomotives]
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.benchmarks.bench_readiness import in_turn, prepare

MATCH = "SELECT rowid FROM parts_findable_words WHERE parts_findable_words MATCH ?"


def main(positions: int, locomotives: int) -> None:
    with tempfile.TemporaryDirectory(prefix="cotter-bench-") as folder:
        prepare(folder)
        from django.core.management import call_command

        from tests.benchmarks.generating import generate_several

        call_command("migrate", verbosity=0)
        call_command("collectstatic", verbosity=0, interactive=False)
        generate_several(positions=positions, locomotives=locomotives)
        measure(positions * locomotives)


def measure(places: int) -> None:
    from django.db import connection
    from django.test import Client

    from core.models import Person
    from parts.finding.find_index import rebuild, reindex
    from parts.models import Component, Findable, Position

    start = time.perf_counter()
    rebuild()
    folding = time.perf_counter() - start
    piece = Component.objects.order_by("-pk").first()
    Component.objects.filter(pk=piece.pk).update(marks="GWX 4417")
    reindex([("piece", piece.pk)])
    client = Client(HTTP_HOST="localhost")
    client.force_login(Person.objects.create(username="bench"))
    client.get("/find/?q=gwx")

    def trigrams():
        with connection.cursor() as cursor:
            return cursor.connection.execute(MATCH, ['"wx44"']).fetchall()

    def seen(address):
        return lambda: client.get(address)

    ways = {
        "the index alone": trigrams,
        "LIKE over the columns": lambda: [list(by_like(model, "wx 44")) for model in (Component, Position)],
        "the whole page": seen("/find/?q=wx44"),
        "first answers while typing": seen("/find/first?q=wx44"),
        "a word of very many": seen(f"/find/first?q={piece.name.split()[0]}"),
        "two letters": seen("/find/first?q=lh"),
        "a mistyped word": seen("/find/first?q=axelbox"),
        "a filter: state": seen("/find/?state=cleaned"),
        "a filter: need": seen("/find/?need=clean"),
        "a filter: unseen for a year": seen("/find/?unseen=1"),
        "an empty find page": seen("/find/"),
    }
    assert len(trigrams()) == 1
    best = in_turn(ways)
    like = best["LIKE over the columns"]
    print(f"{places} places, {Component.objects.count()} pieces, {Findable.objects.count()} things to be found")
    for name, took in best.items():
        goal = "  (goal 0.2)" if name == "the whole page" else ""
        print(f"  {name:28} {took * 1000:7.2f} ms   {took / like:6.3f} of LIKE{goal}")
    print(f"folding everything anew took {folding:.1f} s")


def by_like(model, text: str):
    """As a register without an index would: every word in any of the columns that say something of a thing."""
    from django.db.models import Q

    columns = {
        "Component": (
            "name",
            "marks",
            "works_number",
            "cast_number",
            "location__path",
            "place__name",
            "place__drawing",
        ),
        "Position": ("name", "axle", "end", "drawing", "subassembly__name"),
    }[model.__name__]
    found = model.objects.all()
    for word in text.split():
        any_of = Q()
        for column in columns:
            any_of |= Q(**{f"{column}__icontains": word})
        found = found.filter(any_of)
    return found.order_by("name", "pk")[:50]


if __name__ == "__main__":
    given = sys.argv[1:3]
    main(*map(int, given + ["20000", "5"][len(given) :]))
