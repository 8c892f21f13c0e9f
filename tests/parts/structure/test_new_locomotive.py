"""The page of a new locomotive: counted first, then made."""

import pytest

from parts.domain.structure import plan
from parts.models import HoldPoint, Locomotive
from parts.structure.views.new_locomotive import NewLocomotiveForm
from tests.tables import for_each

pytestmark = pytest.mark.django_db
PAGE = "/locomotives/new/"
SAID = {
    "name": "Fern",
    "structure": "laid out",
    "wheels": "0-6-0T",
    "outside_cylinders": "2",
    "inside_cylinders": "0",
    "valve_gear": "Walschaerts",
    "valves": "slide",
    "brake": "steam",
    "tender_axles": "3",
}


@pytest.fixture
def manager(client, people):
    client.force_login(people.manager)
    return client


def made() -> Locomotive | None:
    return Locomotive.objects.filter(name="Fern").first()


def test_the_form_is_there(manager):
    assert manager.get(PAGE).status_code == 200


def test_it_is_counted_before_it_is_made_and_made_as_it_was_counted(manager):
    answer = manager.post(PAGE, SAID)
    assert answer.status_code == 200
    counted = answer.context["counts"]
    assert counted["positions"] >= 300
    assert sum(group["positions"] for group in counted["groups"]) == counted["positions"]
    assert made() is None
    assert manager.post(PAGE, SAID | {"make": "yes"}).status_code == 302
    assert (made().slug, made().positions.count(), made().subassemblies.count()) == (
        "fern",
        counted["positions"],
        counted["subassemblies"],
    )


def test_what_is_made_is_what_was_chosen(manager):
    assert manager.post(PAGE, SAID | {"wheels": "0-4-0T", "american": "on", "make": "yes"}).status_code == 302
    names = set(made().positions.values_list("name", flat=True))
    assert names >= {"bell", "coupler knuckle"}
    assert "draw hook" not in names
    assert HoldPoint.objects.of_locomotive(made()).filter(name__contains="1,472").exists()  # as American rules have it


@for_each(
    ("entered", "there", "not_there"),
    [
        ({"wheels": "1'C1't"}, {"radius arm", "reversing lever", "draw hook"}, {"pilot"}),
        ({"wheels": "0-6-0T", "reverse": "screw reverse"}, {"reversing screw"}, {"reversing lever"}),
        ({"wheels": "2-4-0", "carrying": "truck"}, {"radius arm"}, set()),
        ({"wheels": "2-4-0"}, set(), {"radius arm"}),
        ({"wheels": "2-6-0", "american": "on"}, {"pilot", "bell", "coupler knuckle"}, {"draw hook", "buffer spring"}),
        ({"wheels": "0-4-4-0T"}, {"articulation hinge pin"}, set()),
        ({"wheels": "2'2'"}, {"body side", "truck axle"}, {"cylinder casting", "barrel plate"}),
    ],
)
def test_what_is_chosen_is_what_is_laid_out(entered, there, not_there):
    form = NewLocomotiveForm(SAID | entered)
    assert form.is_valid()
    places = {place.name for place in plan(form.cleaned_data["spec"]).positions}
    assert there <= places
    assert not not_there & places


def test_an_empty_one_needs_no_wheels(manager):
    manager.post(PAGE, SAID | {"structure": "empty", "wheels": "", "make": "yes"})
    assert made().positions.count() == 0


@for_each(
    ("change", "sentence"),
    [
        ({"name": ""}, "Name the locomotive"),
        ({"wheels": ""}, "wheel arrangement is blank"),
        ({"wheels": "0-6"}, "write leading, coupled and trailing"),
        ({"wheels": "2-8-8-8-8-2"}, "at most 3"),
        ({"tender_axles": "9"}, "9 is not one of the available choices"),
        ({"driven_axle": "4"}, "write a number from 1 to 3"),
        ({"outside_cylinders": "0"}, "fewer than two"),
        ({"valve_gear": "clockwork"}, "clockwork is not one of the available choices"),
        ({"slug": "Not A Slug"}, "Use small letters, digits and hyphens"),
        ({"slug": "x" * 61}, "at most 60 characters"),
        ({"builder": "x" * 121}, "at most 120 characters"),
    ],
)
def test_a_mistake_is_told_beside_its_field_and_nothing_is_made(manager, change, sentence):
    answer = manager.post(PAGE, SAID | {"make": "yes"} | change)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert Locomotive.objects.count() == 0


def test_a_short_name_that_is_taken_is_refused(manager):
    manager.post(PAGE, SAID | {"structure": "empty", "make": "yes"})
    answer = manager.post(PAGE, SAID | {"name": "Fern again", "slug": "fern", "make": "yes"})
    assert answer.status_code == 422
    assert "is taken" in answer.content.decode()


def test_only_the_works_manager_comes_here(client, people):
    for person in people:
        client.force_login(person)
        assert client.get(PAGE).status_code == (200 if person == people.manager else 403)
