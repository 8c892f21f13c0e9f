"""What is missing as a whole is one row and one decision: every empty place of it and of its parts gets it."""

import pytest

from parts.models import Decision, Position, Renewal
from parts.queries.readiness import load_now
from parts.readiness.worklist import WorkList
from parts.structure.writers.structure import add_subassembly
from tests.factories import days
from tests.parts.jobs import a_renewal, an_empty_place

REASON = "never found with the locomotive"


@pytest.fixture
def truck(works):
    """A truck of two parts, one safety-critical place among its five; for one of them a new piece is under way."""
    whole = add_subassembly(works.locomotive, "Pony truck", works.people.manager)
    frame, wheels = (
        add_subassembly(works.locomotive, name, works.people.manager, parent=whole) for name in ("Frame", "Wheels")
    )
    for name in ("radius arm", "swing link", "centre pin"):
        an_empty_place(works, subassembly=frame, name=name)
    an_empty_place(works, subassembly=wheels, name="axlebox", side="LH", safety_critical=True)
    an_empty_place(works, subassembly=wheels, name="axlebox", side="RH")
    a_renewal(works, place=frame.positions.get(name="centre pin"))
    return whole


def address(truck) -> str:
    return f"{truck.get_absolute_url()}decide"


def decided(client, person, truck, **entered):
    client.force_login(person)
    places = {f"places-{n}": pk for n, pk in enumerate(entered.pop("places", missing(truck)))}
    return client.post(address(truck), {"outcome": "renew", "route": "buy", "reason": REASON} | places | entered)


def missing(truck) -> list[int]:
    found = Position.objects.filter(subassembly__parent=truck, need="source")
    return list(found.values_list("pk", flat=True))


def told(truck) -> list[str]:
    work = WorkList(load_now(truck.locomotive, days(0)), {"source", "await"})
    return [blocker.words for blocker in work[:] if blocker.place is None]


def test_the_whole_is_one_row_and_one_decision_renews_each_place(client, works, truck):
    assert told(truck) == ["All of Pony truck: 4 places"]
    answer = decided(client, works.people.engineer, truck)
    assert answer.url == truck.get_absolute_url()
    assert Decision.objects.filter(outcome="renew", reason=REASON, provisional=False).count() == 4
    assert Renewal.objects.under_way().count() == 5
    assert told(truck) == []


def test_left_empty_its_places_are_no_longer_required(client, works, truck):
    decided(client, works.people.engineer, truck, outcome="leave")
    assert not Position.objects.filter(subassembly__parent=truck, required=True).exclude(name="centre pin").exists()


def test_the_manager_notes_it_and_does_not_decide_on_what_is_safety_critical(client, works, truck):
    refused = decided(client, works.people.manager, truck)
    assert refused.status_code == 403
    assert "for the responsible engineer" in refused.content.decode()
    assert not Decision.objects.exists()
    decided(client, works.people.manager, truck, provisional="on")
    assert Decision.objects.filter(provisional=True).count() == 4
    assert told(truck) == ["All of Pony truck: 4 places"]


def test_nothing_ticked_and_a_place_dealt_with_meanwhile_are_refused(client, works, truck):
    places = missing(truck)
    assert "Tick those" in decided(client, works.people.engineer, truck, places=[]).content.decode()
    a_renewal(works, place=Position.objects.get(pk=places[0]))
    answer = decided(client, works.people.engineer, truck, places=places)
    assert answer.status_code == 422
    assert not Decision.objects.exists()


def test_the_page_offers_it_to_whoever_may_decide(client, works, truck):
    assert client.get(address(truck)).url.startswith("/sign-in/")
    client.force_login(works.people.volunteer)
    assert client.get(address(truck)).status_code == 403
    assert address(truck) not in client.get(truck.get_absolute_url()).content.decode()
    client.force_login(works.people.manager)
    assert address(truck) in client.get(truck.get_absolute_url()).content.decode()
    assert client.get(address(truck)).content.decode().count('name="places-') == 4
