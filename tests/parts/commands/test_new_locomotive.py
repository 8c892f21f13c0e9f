"""`manage.py new_locomotive`."""

import io

import pytest
from django.core.management import CommandError, call_command

from parts.models import Locomotive
from tests.tables import for_each

pytestmark = pytest.mark.django_db


def make(**options) -> str:
    """What the command says."""
    said = io.StringIO()
    call_command("new_locomotive", stdout=said, **{"name": "Fern", "slug": "fern", "wheels": "0-6-0T"} | options)
    return said.getvalue()


@pytest.fixture(scope="module")
def said(module_db):
    return make(drawings_in="mm")


@pytest.fixture(scope="module")
def fern(said):
    return Locomotive.objects.get(slug="fern")


def test_a_six_coupled_tank_has_at_least_300_positions(said, fern):
    assert fern.positions.count() >= 300
    assert f"{fern.positions.count()} positions" in said
    assert fern.open_overhaul().number == 1


def test_an_empty_one_has_none():
    call_command("new_locomotive", name="Moss", slug="moss", empty=True)
    assert Locomotive.objects.get(slug="moss").positions.count() == 0


def test_inside_cylinders_alone_mean_no_outside_ones():
    listed = make(inside_cylinders=2, dry_run=True)
    assert "\nInside cylinders" in listed
    assert "\nOutside cylinders" not in listed


def test_every_further_choice_is_an_option():
    chosen = {"reverse": "screw", "carrying": "truck", "big_end": "bush", "steam_heating": True}
    listed = make(wheels="0-4-2T", **chosen, dry_run=True)
    for name in ("reversing screw", "radius arm", "big-end bush", "steam heating pipe"):
        assert f"    {name}" in listed


def test_the_dimensions_that_matter_are_named_in_the_unit_of_the_drawings(fern):
    """Journals and crank pins are measured: 49 CFR 230.97 and 230.98, by their headings."""
    pin = fern.positions.filter(name="crank pin").first()
    assert [(size.name, size.unit, size.wears, size.round_part) for size in pin.dimensions.all()] == [
        ("pin diameter", "mm", "smaller", True)
    ]
    assert set(fern.positions.filter(dimensions=None).values_list("name", flat=True)) >= {"chimney", "main frame plate"}
    for place in fern.positions.prefetch_related("dimensions"):
        assert ("dimensional" in place.calls_for) is bool(place.dimensions.all()), place


def test_a_dry_run_prints_the_structure_and_makes_nothing():
    printed = make(name="Moss", slug="moss", wheels="C", dry_run=True)
    assert "Wheelsets, goes on after Main frames, Horns" in printed
    assert "crank pin, LH, driving axle" in printed
    assert not Locomotive.objects.filter(slug="moss").exists()


@for_each(
    ("options", "sentence"),
    [
        ({"wheels": "0-6"}, "write leading, coupled and trailing"),
        ({"brake": "anchor"}, "write one of: hand, steam"),
        ({"outside_cylinders": 7}, "write 0 or 2"),
        ({"tender_axles": 8}, "write a number from 2 to 6"),
        ({"springs": "rubber"}, "write one of: underhung springs, overhung springs"),
        ({"name": " "}, "Name the locomotive"),
        ({"slug": "Moss 4"}, "Use small letters, digits and hyphens"),
        ({"builder": "x" * 200}, "Shorten it to 120"),
    ],
)
def test_a_mistake_is_told_and_nothing_is_made(options, sentence):
    with pytest.raises(CommandError, match=sentence):
        make(**{"slug": "moss"} | options)
    assert not Locomotive.objects.exclude(slug="fern").exists()


def test_a_short_name_that_is_taken_is_refused(fern):
    with pytest.raises(CommandError, match="“fern” is taken"):
        make(name="Fern again")
