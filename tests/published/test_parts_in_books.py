"""The parts that books name, each found in the starting structures or left out for a reason that is said.

Ahrons: E. L. Ahrons, Steam Locomotive Construction and Maintenance (Pitman, 1921), pages and index as read at
en.wikisource.org (Page:Steamlocomotivec00ahrorich.djvu), for British engines with slide valves and link motion.
Ludy: L. V. Ludy, Locomotive Boilers and Engines (American Technical Society), its index as read at
ramblings.sweet-haven.com, and "Glossary": Locomotive, Design and Construction, A to C, as read at books.google.com
(JvZPAAAAMAAJ, page 61), for American engines.
"""

import csv
from functools import cache
from pathlib import Path

from parts.domain.structure import LocomotiveSpec, plan
from tests.tables import for_each

ROWS = list(csv.DictReader(Path(__file__).with_name("parts_in_books.csv").open(encoding="utf-8"), delimiter=";"))
BRITISH = tuple(
    LocomotiveSpec(wheels, inside_cylinders=inside, outside_cylinders=0 if inside else 2, springs=springs)
    for wheels, inside, springs in (
        ("0-4-0ST", 0, ""), ("0-6-0T", 2, ""), ("0-6-0", 2, "overhung springs"), ("0-6-2T", 2, ""), ("2-4-0", 2, ""),
        ("2-6-0", 0, ""), ("4-4-0", 2, "overhung springs"), ("4-4-2T", 0, ""), ("4-6-0", 0, ""), ("2-8-0", 0, ""),
        ("0-8-0", 2, ""), ("2-6-2T", 0, ""),
    )
)  # fmt: skip
AMERICAN = tuple(
    LocomotiveSpec(wheels, british=False, superheated=wheels != "4-4-0", brake="air")
    for wheels in ("4-4-0", "2-6-0", "4-6-2", "2-8-2")
)
SPECS = {"Ahrons": BRITISH, "Ludy": AMERICAN, "Glossary": AMERICAN}


@cache
def names(spec: LocomotiveSpec) -> frozenset[str]:
    """Without the word that tells apart the places of two engine units or cylinder groups."""
    return frozenset(place.name.removeprefix("inside ").removeprefix("outside ") for place in plan(spec).positions)


@for_each("row", ROWS)
def test_each_part_is_laid_out_or_the_reason_is_said(row):
    assert bool(row["place"]) != bool(row["why_not"])
    wanted = {word.strip() for word in row["where"].split(",") if word}
    having = [spec for spec in SPECS[row["book"]] if wanted <= spec.facts]
    assert having
    for spec in having:
        assert not row["place"] or row["place"] in names(spec), spec.wheels


def test_at_least_twelve_arrangements_are_read():
    assert len({str(spec.wheels) for spec in (*BRITISH, *AMERICAN)}) >= 12
