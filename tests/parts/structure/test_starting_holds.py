"""What a new locomotive with a boiler starts with: a survey for asbestos, and the hold points of its boiler's rules.

What stands in the lists is common practice without a source, and what a row cites of a country's rules is from memory;
checked here is what they stop and where.
"""

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from core.domain.refusals import Refused
from parts.domain.hold_templates import Regime, templates
from parts.domain.structure import LocomotiveSpec
from parts.entering.writers.pieces import strip_new
from parts.holds import writers
from parts.models import HoldPoint, Locomotive
from parts.structure.writers.locomotives import new_locomotive
from tests.factories import a_cast

pytestmark = pytest.mark.django_db
TANK_ENGINE = LocomotiveSpec(wheels="0-4-0T", outside_cylinders=2, inside_cylinders=0)


@pytest.fixture(scope="module")
def people(module_db):
    return a_cast()


@pytest.fixture(scope="module")
def bittern(people):
    return new_locomotive(people.manager, name="Bittern", slug="bittern", spec=TANK_ENGINE)


@pytest.fixture(scope="module")
def rail(people):
    """It has no hold points yet."""
    return new_locomotive(people.manager, name="Rail", slug="rail", spec=TANK_ENGINE, starting_holds=False)


def surveys(locomotive):
    return HoldPoint.objects.of_locomotive(locomotive).filter(name__icontains="asbestos")


def held(locomotive) -> set[str]:
    return {hold.on_words for hold in surveys(locomotive)}


def strip(people, place):
    return strip_new(people.volunteer, locomotive=place.locomotive, name=place.name, place=place)


def test_cladding_and_old_joints_wait_for_a_survey(bittern, people):
    names = held(bittern)
    assert {"Cladding and lagging", "firehole door, LH", "dome cover", "regulator gland"} <= names
    for name in ("barrel lagging", "dome cover"):
        with pytest.raises(Refused, match="Asbestos survey"):
            strip(people, bittern.positions.get(name=name))
    strip(people, bittern.positions.get(name="chimney"))


def test_they_stop_cleaning_too_and_say_so_as_the_leading_need(bittern):
    assert all({"strip", "clean"} <= set(hold.stops) for hold in surveys(bittern))
    assert bittern.positions.get(name="dome cover").need == "release"
    assert bittern.positions.get(name="chimney").need == "strip"


def test_one_report_releases_all_of_the_survey(client, bittern, people):
    first = surveys(bittern).filter(position__isnull=False).first()
    client.force_login(people.engineer)
    page = client.get(reverse("holds", args=[bittern.slug])).content.decode()
    assert page.count("<summary>Asbestos survey before it is touched") == 1
    entered = {"reference": "Survey 26/4", "filed": "boiler file", "with_alike": "on"}
    assert client.post(reverse("release_hold", args=[first.pk]), entered).status_code == 302
    assert not surveys(bittern).filter(released_on=None).exists()
    assert {release.reference for hold in surveys(bittern) for release in hold.releases.all()} == {"Survey 26/4"}
    place = bittern.positions.get(name="dome cover")
    assert place.need == "strip"
    strip(people, place)


def test_one_alone_is_released_alone(bittern, people):
    first, *others = surveys(bittern)
    writers.release(first, people.engineer, reference="Survey 26/4", filed="boiler file")
    assert surveys(bittern).filter(released_on=None).count() == len(others)


@pytest.mark.parametrize(
    ("regime", "word"),
    [
        ("United Kingdom", "Written scheme of examination"),
        ("United States", "1,472 service days"),
        ("Continental", "Boiler book"),
        ("other", "Papers handed over"),
    ],
)
def test_the_boiler_starts_under_the_rules_chosen(people, rail, regime, word):
    writers.add_starting(rail.open_overhaul(), people.manager, Regime(regime))
    names = [hold.name for hold in HoldPoint.objects.of_locomotive(rail)]
    assert any(word in name for name in names)
    assert len([name for name in names if "Asbestos" not in name]) == len(Regime(regime).template.lines)
    on_boiler = HoldPoint.objects.filter(overhaul__locomotive=rail, subassembly__code="boiler")
    assert {"accept", "start on", "finish repair"} <= {action for hold in on_boiler for action in hold.stops}


def test_every_regime_but_none_has_a_list_that_calls_itself_a_start():
    entered = [regime.template for regime in Regime if regime is not Regime.NONE]
    assert all("starting list" in template.says and "competent person" in template.says for template in entered)
    assert Regime.NONE.template is None
    assert all(set(line.stops) <= set(writers.stoppable()) for t in templates().values() for line in t.lines)


def test_none_yet_leaves_the_survey(people, rail):
    writers.add_starting(rail.open_overhaul(), people.manager, Regime("none yet"))
    assert {hold.name for hold in HoldPoint.objects.of_locomotive(rail)} == {"Asbestos survey before it is touched"}


def test_without_a_boiler_there_is_nothing_to_hold(people):
    wagon = LocomotiveSpec(wheels="Bo-Bo", outside_cylinders=0, inside_cylinders=0)
    assert not HoldPoint.objects.of_locomotive(new_locomotive(people.manager, name="W", slug="w", spec=wagon)).exists()
    assert not HoldPoint.objects.of_locomotive(new_locomotive(people.manager, name="E", slug="e")).exists()


def test_rules_that_nobody_knows_are_refused_and_nothing_is_made(people):
    with pytest.raises(Refused, match="not known"):
        new_locomotive(people.manager, name="Tern", slug="tern", spec=TANK_ENGINE, regime="Atlantis")
    assert not Locomotive.objects.filter(slug="tern").exists()


def test_the_command_takes_the_rules(capsys):
    entered = {"name": "Fern", "slug": "fern", "wheels": "0-4-0T"}
    call_command("new_locomotive", boiler_rules="Continental", **entered)
    assert "hold points to start with" in capsys.readouterr().out
    assert HoldPoint.objects.filter(overhaul__locomotive__slug="fern", name="Boiler book entered").exists()
    with pytest.raises(CommandError):
        call_command("new_locomotive", "--name=F", "--slug=f", "--wheels=0-4-0T", "--boiler-rules=Atlantis")


@pytest.mark.engine
def test_a_hold_point_is_edited_until_it_is_released(client, bittern, people):
    hold = HoldPoint.objects.of_locomotive(bittern).get(name__startswith="Written scheme")
    entered = {
        "name": "Written scheme",
        "body": "the inspecting body",
        "stops-0": "close the overhaul",
        "must_show": "it",
    }
    for person, status in ((people.volunteer, 403), (people.engineer, 302)):
        client.force_login(person)
        assert client.post(f"/holds/{hold.pk}/edit", entered).status_code == status
    hold.refresh_from_db()
    assert (hold.name, hold.body_kind, hold.stops) == ("Written scheme", "inspecting body", ["close the overhaul"])
    assert client.post(f"/holds/{hold.pk}/edit", entered | {"name": " "}).status_code == 422
    writers.release(hold, people.engineer, reference="Paper", filed="file")
    assert client.post(f"/holds/{hold.pk}/edit", entered).status_code == 422
