"""A boiler and its file on screen: begun, described, written into, moved; and who may."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inspections.boilers import writers
from inspections.models import Boiler, BoilerEntry, BoilerPart, SchemeRow
from parts.actions import writing
from parts.holds import writers as holds
from parts.structure.writers.structure import add_subassembly
from tests.factories import days, fresh
from tests.tables import for_each

BOILER = {
    "number": "B-17", "maker": "", "built": "", "regime": "United Kingdom", "body": "a body (invented)", "person": "",
    "wanted": "12 bar", "note": "", "locomotive": "",
}  # fmt: skip


@pytest.fixture
def boiler(works, people):
    entered = {"number": "B-1", "regime": "United States", "body": "a body (invented)", "wanted": "180 lb/in²"}
    return writers.add_boiler(people.engineer, locomotive=works.locomotive, **entered)


def at(name, *numbers):
    return reverse(name, args=numbers)


def test_an_engineer_begins_the_file_of_a_spare(client, people):
    client.force_login(people.engineer)
    answer = client.post(reverse("add_boiler"), BOILER)
    made = Boiler.objects.get()
    assert (answer.status_code, answer.url, made.locomotive) == (302, made.get_absolute_url(), None)
    text = client.get(answer.url).content.decode()
    assert "12 bar (174 lb/in²)" in text
    assert "Nothing here is fit for pressure until the competent person and the inspecting body" in text


@for_each(
    ("change", "told"),
    [
        ({"number": ""}, "Nothing was written"),
        ({"number": "B-1"}, "A boiler of that number has a file"),
        ({"wanted": "180"}, "has no unit"),
        ({"wanted": "12 tons/in²"}, "more than one"),
        ({"regime": ""}, "Choose whose rules"),
        ({"body": ""}, "Nothing was written"),
    ],
)
def test_a_refusal_names_the_field(client, people, boiler, change, told):
    client.force_login(people.engineer)
    answer = client.post(reverse("add_boiler"), BOILER | change)
    assert (answer.status_code, told in answer.content.decode()) == (422, True)
    assert Boiler.objects.count() == 1


@pytest.mark.engine
def test_two_who_describe_it_at_once(client, people, boiler):
    client.force_login(people.engineer)
    entered = BOILER | {"number": "B-1", "seen": 0}
    assert client.post(at("edit_boiler", boiler.pk), entered | {"maker": "A"}).status_code == 302
    assert client.post(at("edit_boiler", boiler.pk), entered | {"maker": "B"}).status_code == 409
    assert fresh(boiler).maker == "A"


def test_a_part_with_its_sizes_and_where_the_thickness_needed_comes_from(client, people, boiler):
    client.force_login(people.engineer)
    assert "Survey a plate" not in client.get(boiler.get_absolute_url()).content.decode()
    entered = {"kind": "plate", "name": "course 1", "metal": "steel", "shape": "barrel course", "width": "4 ft",
            "height": "1500", "nominal": "1/2 in", "needed": "9.5", "needed_from": ""}  # fmt: skip
    answer = client.post(at("add_boiler_part", boiler.pk), entered)
    assert (answer.status_code, "where the thickness needed comes from" in answer.content.decode()) == (422, True)
    assert client.post(at("add_boiler_part", boiler.pk), entered | {"needed_from": "calculation 1"}).status_code == 302
    part = BoilerPart.objects.get()
    assert (float(part.width), float(part.nominal)) == (1219.2, 12.7)
    text = client.get(boiler.get_absolute_url()).content.decode()
    assert 'href="#plates">Survey a plate' in text
    assert 'id="plates"' in text
    assert client.post(at("edit_boiler_part", boiler.pk, part.pk), entered | {"needed": ""}).status_code == 302
    assert fresh(part).needed is None
    assert client.get(at("edit_boiler_part", boiler.pk, 99999)).status_code == 404


def test_a_row_of_the_scheme_falls_due(client, people, boiler):
    client.force_login(people.engineer)
    entered = {"item": "Boiler", "nature": "cold", "months": "14", "by": "C. P.", "last": days(-500).isoformat()}
    assert client.post(at("add_scheme_row", boiler.pk), entered).status_code == 302
    assert 'class="red-ink"' in client.get(boiler.get_absolute_url()).content.decode()
    row = SchemeRow.objects.get()
    opened = {"seen": writing.last_of(writers.edits_of(boiler, writers.ROW_WORD))}
    entry = {"kind": "examination", "on": days(0).isoformat(), "words": "Found good.", "row": row.pk}
    assert client.post(at("enter_boiler", boiler.pk), entry).status_code == 302
    assert fresh(row).last == days(0)
    late = client.post(at("edit_scheme_row", boiler.pk, row.pk), entered | opened)
    assert (late.status_code, fresh(row).last) == (409, days(0))
    assert client.post(at("add_scheme_row", boiler.pk), entered | {"last": days(9).isoformat()}).status_code == 422


def test_no_metal_is_cut_before_the_release(client, works, people, boiler):
    """A pressure repair waits for its hold point; it is then owed to be finished and tested."""
    client.force_login(people.engineer)
    entered = {"kind": "pressure repair begun", "on": days(0).isoformat(), "words": "A patch."}
    answer = client.post(at("enter_boiler", boiler.pk), entered)
    assert (answer.status_code, "waits for its release" in answer.content.decode()) == (422, True)
    hold = holds.add_hold(
        works.locomotive.open_overhaul(), people.engineer, name="Patch", stops=["refit"], body=boiler.body
    )
    answer = client.post(at("enter_boiler", boiler.pk), entered | {"hold": hold.pk})
    assert (answer.status_code, "Cut no metal before" in answer.content.decode()) == (422, True)
    assert not BoilerEntry.objects.exists()
    holds.release(hold, people.engineer, reference="letter 1", filed="file")
    assert client.post(at("enter_boiler", boiler.pk), entered | {"hold": hold.pk}).status_code == 302
    assert "Finish the pressure repair" in client.get(boiler.get_absolute_url()).content.decode()


def test_a_lowered_pressure_owes_valves_and_gauge_until_they_are_reset(client, people, boiler):
    client.force_login(people.engineer)
    entered = {"kind": "pressure lowered", "on": days(0).isoformat(), "words": "One year.", "pressure": "150 lb/in²"}
    assert client.post(at("enter_boiler", boiler.pk), entered).status_code == 422  # on which paper?
    client.post(at("enter_boiler", boiler.pk), entered | {"reference": "letter 3"})
    owed = "Set the safety valves for 150 lb/in²"
    text = client.get(boiler.get_absolute_url()).content.decode()
    assert (owed in text, "pressure lowered to 150 lb/in²" in text) == (True, True)
    client.post(at("enter_boiler", boiler.pk), entered | {"kind": "valves and gauge mark reset"})
    assert owed not in client.get(boiler.get_absolute_url()).content.decode()


def test_it_moves_with_its_file(client, works, people, boiler):
    client.force_login(people.manager)
    other = works.another().locomotive
    places = [
        works.place(name="backhead", subassembly=add_subassembly(engine, "Boiler shell", people.manager))
        for engine in (works.locomotive, other)
    ]
    backhead = {"kind": "plate", "name": "backhead", "metal": "steel", "shape": "arched", "position": places[0]}
    part = writers.put_part(boiler, people.engineer, **backhead)
    entered = {"locomotive": other.pk, "on": days(0).isoformat(), "words": ""}
    assert client.post(at("move_boiler", boiler.pk), entered).status_code == 302
    assert client.post(at("move_boiler", boiler.pk), entered).status_code == 422  # it is there already
    assert fresh(boiler).locomotive == other
    assert fresh(part).position == places[1]
    assert f"Moved to {other}" in client.get(boiler.get_absolute_url()).content.decode()
    told = client.post(at("move_boiler", boiler.pk), entered | {"locomotive": ""}, follow=True).content.decode()
    assert "No place in the register is known there for backhead: edit each part" in told
    assert (fresh(boiler).locomotive, fresh(part).position) == (None, None)
    assert "Spare, on no locomotive" in client.get("/find/?q=boiler+b-1").content.decode()


def test_a_pressure_part_is_offered_whatever_its_subassembly_is_called(client, works, people, boiler):
    client.force_login(people.engineer)
    steam = add_subassembly(works.locomotive, "Steam raiser", people.manager)
    course = works.place(name="barrel course 2", subassembly=steam, pressure_part=True)
    works.place(name="lagging band", subassembly=steam)
    shown = client.get(at("add_boiler_part", boiler.pk)).content.decode()
    assert (f'value="{course.pk}"' in shown, "lagging band" in shown) == (True, False)


def test_who_may_and_what_is_not_there(client, people, boiler):
    names = ("edit_boiler", "add_boiler_part", "add_scheme_row", "enter_boiler", "move_boiler")
    for name in names:
        assert client.get(at(name, boiler.pk)).status_code == 302
    client.force_login(people.trustee)
    assert client.get(reverse("boilers")).status_code == client.get(boiler.get_absolute_url()).status_code == 200
    assert client.get(reverse("add_boiler")).status_code == 403
    for name in names:
        assert client.get(at(name, boiler.pk)).status_code == 403
    client.force_login(people.engineer)
    for name in names:
        assert client.get(at(name, boiler.pk)).status_code == 200
        assert client.put(at(name, boiler.pk)).status_code == 405
        assert client.get(at(name, 99999)).status_code == 404
    assert client.post(boiler.get_absolute_url()).status_code == 405
    assert client.get(at("boiler", 99999)).status_code == 404


def test_its_page_asks_the_database_as_often_however_long_the_file(client, people, boiler):
    client.force_login(people.engineer)
    client.get(boiler.get_absolute_url())
    asked = []
    for _ in range(2):
        for number in range(3):
            writers.enter(boiler, people.engineer, kind="examination", on=days(0), words=f"{number}")
        with CaptureQueriesContext(connection) as queries:
            client.get(boiler.get_absolute_url())
        asked.append(len(queries))
    assert asked[0] == asked[1] <= 12


def test_the_whole_file_is_printed(client, people, boiler):
    writers.enter(boiler, people.engineer, kind="examination", on=days(0), words="Found good.")
    client.force_login(people.trustee)
    answer = client.get(at("boiler_file_pdf", boiler.pk))
    assert (answer.status_code, answer.content[:5]) == (200, b"%PDF-")
