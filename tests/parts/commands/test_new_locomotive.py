"""`manage.py new_locomotive`."""

import pytest
from django.core.management import CommandError, call_command

from parts.models import Locomotive

pytestmark = pytest.mark.django_db


def make(**options) -> Locomotive:
    call_command("new_locomotive", **{"name": "Fern", "slug": "fern", "wheels": "0-6-0T"} | options)
    return Locomotive.objects.get(slug=options.get("slug", "fern"))


def test_a_six_coupled_tank_has_at_least_300_positions(capsys):
    fern = make()
    assert fern.positions.count() >= 300
    assert f"{fern.positions.count()} positions" in capsys.readouterr().out
    assert fern.open_overhaul().number == 1


def test_an_empty_one_has_none():
    call_command("new_locomotive", name="Moss", slug="moss", empty=True)
    assert Locomotive.objects.get().positions.count() == 0


def test_inside_cylinders_alone_mean_no_outside_ones():
    fern = make(inside_cylinders=2)
    assert set(fern.positions.exclude(inside="").values_list("inside", flat=True)) == {"inside"}


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"wheels": "0-6"}, "write leading, coupled and trailing"),
        ({"brake": "anchor"}, "write one of: hand, steam"),
        ({"outside_cylinders": 7}, "write 0 or 2"),
        ({"name": " "}, "Name the locomotive"),
        ({"slug": "Fern 4"}, "Use small letters, digits and hyphens"),
        ({"builder": "x" * 200}, "Shorten it to 120"),
    ],
)
def test_a_mistake_is_told_and_nothing_is_made(options, said):
    with pytest.raises(CommandError, match=said):
        make(**options)
    assert not Locomotive.objects.exists()


def test_a_short_name_that_is_taken_is_refused():
    make()
    with pytest.raises(CommandError, match="“fern” is taken"):
        make(name="Fern again")
