"""Tests of a boiler on screen: recorded as they went, in doubt where bad, and what becomes of the release of a hold."""

import pytest
from django.urls import reverse

from inspections.boiler_records import writers
from inspections.boilers import writers as boilers
from inspections.models import BoilerRecord
from parts.holds import writers as holds
from tests.factories import days, fresh
from tests.inspections.domain.test_boiler_test_paper import HYDRAULIC


@pytest.fixture
def hold(works, people):
    overhaul = works.locomotive.open_overhaul()
    return holds.add_hold(overhaul, people.engineer, name="Hydraulic test", stops=["refit"], body="a body (invented)")


@pytest.fixture
def tried(boiler, people, hold):
    """A signed hydraulic test that supports the release of the hold point."""

    def make(**more):
        entered = HYDRAULIC | {"gauge_until": days(9).isoformat(), "gauge_2_until": days(9).isoformat()} | more
        made = writers.begin(
            boiler, people.fitter, kind="test", title="hydraulic test", on=days(0), entered=entered, hold=hold
        )
        return writers.sign(made, people.examiner)

    return make


def release(hold, people):
    holds.release(hold, people.engineer, reference="letter 1", filed="file")
    return fresh(hold)


def test_a_fitter_records_one_as_it_went(client, people, boiler):
    client.force_login(people.fitter)
    address = reverse("begin_test", args=[boiler.pk])
    assert "Hydraulic test" in client.get(address).content.decode()
    entered = HYDRAULIC | {"on": days(0).isoformat(), "reached": "240 lb/in²", "vented": "on"}
    answer = client.post(f"{address}?sort=hydraulic+test", entered)
    record = BoilerRecord.objects.get()
    assert (answer.status_code, answer.url) == (302, record.get_absolute_url())
    client.force_login(people.examiner)
    assert client.post(reverse("sign_boiler_record", args=[record.pk])).status_code == 302
    assert fresh(record).counts is False
    text = client.get(boiler.get_absolute_url()).content.decode()
    assert "In doubt." in text
    assert "Examine the whole boiler for overstrain" in text


def test_what_is_missing_is_kept_and_asked_for_before_signing(client, people, boiler):
    client.force_login(people.examiner)
    address = reverse("begin_test", args=[boiler.pk]) + "?sort=safety-valve+setting"
    client.post(address, {"on": days(0).isoformat(), "lifts": "180"})
    record = BoilerRecord.objects.get()
    assert record.entered["lifts"] == "180"
    text = client.get(record.get_absolute_url()).content.decode()
    assert "First valve lifts at: “180” has no unit" in text
    assert client.post(reverse("sign_boiler_record", args=[record.pk])).status_code == 422
    again = client.post(reverse("boiler_test", args=[record.pk]), {"on": days(0).isoformat(), "lifts": "180 lb/in²"})
    assert (again.status_code, fresh(record).entered["lifts"]) == (302, "180 lb/in²")


def test_a_good_test_supports_the_release_and_leaves_it_to_the_named_body(client, people, tried, hold):
    made = tried()
    assert (made.passed, fresh(hold).released_on) == (True, None)
    client.force_login(people.engineer)
    for page in (reverse("release_hold", args=[hold.pk]), reverse("holds", args=[hold.locomotive.slug])):
        text = client.get(page).content.decode()
        assert f'Supported by <a href="{made.get_absolute_url()}">Hydraulic test of boiler B-17' in text
    assert release(hold, people).released_on == days(0)


@pytest.mark.engine
def test_a_test_of_a_boiler_that_stands_elsewhere_says_so_beside_the_hold_point(client, people, boiler, tried, hold):
    tried()
    boilers.move(boiler, people.engineer, locomotive=None, on=days(0), words="")
    client.force_login(people.engineer)
    text = client.get(reverse("holds", args=[hold.locomotive.slug])).content.decode()
    assert "Hydraulic test of boiler B-17 (a spare, on no locomotive)" in text
    offered = client.get(reverse("begin_test", args=[boiler.pk]) + "?sort=hydraulic+test").content.decode()
    assert "Hydraulic test, not released</option>" in offered


def test_a_leak_is_marked_on_the_grid_of_the_last_survey(client, people, survey, tried):
    writers.sign(survey(), people.examiner)
    made = tried(leaks="wrapper, LH, row 1, column 2: weep\ndome joint: weep")
    assert made.subject["sheets"]["wrapper, LH"]["across"] == 3
    client.force_login(people.trustee)
    text = client.get(made.get_absolute_url()).content.decode()
    assert ("Leaks of wrapper, LH" in text, "2. dome joint: weep" in text) == (True, True)


def test_a_later_test_that_failed_makes_the_release_lapse(people, tried, hold):
    tried()
    release(hold, people)
    tried(result="failed", why="a seam wept")
    assert fresh(hold).released_on is None
    assert hold.releases.count() == 1  # it stays on record


def test_a_superseded_test_makes_the_release_lapse(people, tried, hold):
    first = tried()
    release(hold, people)
    entered = {"entered": first.entered, "supersedes": first}
    later = writers.begin(first.boiler, people.fitter, kind="test", title=first.title, on=days(0), hold=hold, **entered)
    assert fresh(hold).released_on == days(0)
    writers.sign(later, people.examiner)
    assert fresh(hold).released_on is None


def test_a_bad_steam_test_leaves_a_hydraulic_release_alone(people, boiler, tried, hold):
    tried()
    release(hold, people)
    steam = tried().entered | {"sort": "steam test", "most_from": "x", "minutes": "15", "plugs": "x", "leaks": "none"}
    steam |= {"plugs_due": days(99).isoformat(), "result": "failed"}
    made = writers.begin(boiler, people.fitter, kind="test", title="steam test", on=days(0), entered=steam)
    writers.sign(made, people.examiner)
    assert fresh(hold).released_on == days(0)


def test_who_may_and_what_is_not_there(client, people, boiler, tried):
    address = reverse("begin_test", args=[boiler.pk])
    assert client.get(address).status_code == 302
    client.force_login(people.trustee)
    assert client.get(address).status_code == 403
    client.force_login(people.fitter)
    assert client.get(f"{address}?sort=no+such").status_code == 404
    assert client.put(address).status_code == 405
    assert client.post(f"{address}?sort=steam+test", {"on": days(2).isoformat()}).status_code == 422
    assert client.post(reverse("boiler_test", args=[tried().pk]), {}).status_code == 404  # signed
