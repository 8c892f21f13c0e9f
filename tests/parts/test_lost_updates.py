"""Two people at one form: whoever saves second is told who was quicker, and nothing of either is lost."""

from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from core.models import Event
from core.roles import Role
from inspections.instruments.writers import edit_instrument
from inspections.limits.writers import edit_dimension
from parts.models import Position
from parts.structure.writers import structure
from parts.work.writers import firms, routes
from tests.as_shown import sent_back
from tests.factories import a_person

FORMS = ("place", "firm", "instrument", "size", "route")


@pytest.fixture
def addresses(works):
    place = works.plain_place()
    return {
        "place": reverse("edit_position", args=[place.pk]),
        "firm": reverse("edit_firm", args=[firms.add_firm(works.people.manager, name="Skarsholt Foundry").pk]),
        "instrument": reverse("edit_instrument", args=[works.instrument(calibrated_until=date(2100, 1, 1)).pk]),
        "size": reverse("edit_size", args=[works.dimension(place).pk]),
        "route": reverse("edit_route", args=["buy"]),
    }


@pytest.mark.engine
@pytest.mark.parametrize("what", FORMS)
def test_the_second_of_two_is_told_who_was_quicker_and_may_send_again(addresses, what):
    address, first, second = addresses[what], Client(), Client()
    quicker, slower = (
        a_person(Role.WORKS_MANAGER, Role.RESPONSIBLE_ENGINEER, name=name) for name in ("Quicker", "Slower")
    )
    first.force_login(quicker)
    second.force_login(slower)
    shown, seen_by_second = (sent_back(c.get(address).content.decode()) for c in (first, second))
    text = next(name for name in ("says", "note", "notes") if name in shown)
    assert first.post(address, shown | {text: "from the first"}).status_code == 302
    answer = second.post(address, seen_by_second | {text: "from the second"})
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "Quicker recorded" in page
    assert sent_back(first.get(address).content.decode())[text] == ["from the first"]
    assert second.post(address, sent_back(page)).status_code == 302
    assert sent_back(first.get(address).content.decode())[text] == ["from the second"]


def test_a_place_found_empty_stays_so_when_somebody_saves_its_form(works):
    """Both had the row in hand before either wrote."""
    place = works.plain_place()
    one, other = Position.objects.get(pk=place.pk), Position.objects.get(pk=place.pk)
    structure.set_known_empty(one, works.people.engineer, "two rusted holes")
    structure.edit_position(other, works.people.manager, drawing="ZQ 9")
    place.refresh_from_db()
    assert (place.known_empty, place.evidence, place.drawing) == (True, "two rusted holes", "ZQ 9")


def test_the_mark_takes_nothing_back_of_an_edit(works):
    place = works.plain_place()
    one, other = Position.objects.get(pk=place.pk), Position.objects.get(pk=place.pk)
    structure.edit_position(one, works.people.manager, drawing="ZQ 9")
    structure.set_known_empty(other, works.people.engineer, "two rusted holes")
    place.refresh_from_db()
    assert (place.known_empty, place.drawing) == (True, "ZQ 9")


def test_events_of_instrument_and_size_keep_what_was_said_before(works):
    instrument, size = works.instrument(calibrated_until=date(2100, 1, 1)), works.dimension(works.plain_place())
    old, name = instrument.kind, size.name
    edit_instrument(instrument, works.people.examiner, kind="bore gauge")
    edit_dimension(size, works.people.engineer, name="bore of the gland")
    told = dict(Event.objects.filter(action__in=("edit instrument", "edit dimension")).values_list("action", "data"))
    assert told == {
        "edit instrument": {"kind": [old, "bore gauge"]},
        "edit dimension": {"name": [name, "bore of the gland"]},
    }


def test_a_route_as_it_is_supplied_knows_of_the_edit_before(works):
    routes.save_route(works.people.manager, key="buy", name="buy in", steps="order it")
    routes.as_supplied("buy", works.people.manager)
    assert routes.edits_of("buy").count() == 2
